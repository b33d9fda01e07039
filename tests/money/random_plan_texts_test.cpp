// A few seconds of what random_plans_soak.cpp does for hours.
#include "random_plan_texts.hpp"

#include <catch2/catch.hpp>

using namespace tedge::test;

TEST_CASE("any plan is answered, or refused with the field and why") {
    RandomPlanTexts random(4);
    int solved_plans = 0;
    constexpr int plans = 800;
    for (int i = 0; i < plans; ++i) {
        const std::string text = random.plan();
        INFO(text);
        bool solved = false;
        REQUIRE(broken_promise(text, {.draws = 256}, solved) == "");
        solved_plans += solved ? 1 : 0;
    }
    CHECK(solved_plans > plans / 3);
    CHECK(solved_plans < plans * 5 / 6);
}
