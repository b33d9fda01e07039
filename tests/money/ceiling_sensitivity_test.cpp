#include "tedge/money/ceiling_sensitivity.hpp"

#include <catch2/catch.hpp>

#include "plan_texts.hpp"
#include "reference_rows.hpp"

using namespace tedge;
using namespace tedge::money;
using namespace tedge::test;

TEST_CASE("the widest swing stands first; months are listed although without finance they move nothing") {
    const CeilingPlan plan = plan_of(two_outcomes);
    const auto swings = ceiling_sensitivity(plan).value();
    REQUIRE(swings.size() == 7);  // two prices, two waits, two factors, one cost
    for (std::size_t i = 1; i < swings.size(); ++i) CHECK(swings[i].width_minor() <= swings[i - 1].width_minor());
    CHECK(swings[0].width_minor() > 0);
    CHECK(swings[5].field == "outcomes[0].months");
    CHECK(swings[6].width_minor() == 0);
}

// No VAT, 25 % premium with VAT on it: 1.3 H = mean price − mean cost − 4,000 (own arithmetic)
TEST_CASE("swings of a plan that can be reckoned by hand") {
    auto json = exchanged(certain, "margin-scheme", "none");
    json = exchanged(json, R"("price": 20000)", R"("name": "his", "price": [15000, 20000, 32000])");
    json = exchanged(json, R"("amount": 3000)", R"("amount": [600, 900, 1800])");
    const auto swings = ceiling_sensitivity(plan_of(json)).value();
    REQUIRE(swings.size() == 2);
    CHECK(swings[0].field == "outcomes[0].price");
    CHECK(swings[0].name == "his");
    CHECK(text(swings[0].at_low) == "7692.30");    // 15,000 − 1,000 − 4,000
    CHECK(text(swings[0].at_high) == "20769.23");  // 32,000 − 1,000 − 4,000
    CHECK(swings[1].field == "costs[0].amount");
    CHECK(text(swings[1].at_low) == "12743.58");   // 21,166.67 − 600 − 4,000
    CHECK(text(swings[1].at_high) == "11820.51");  // 21,166.67 − 1,800 − 4,000
}

TEST_CASE("nothing uncertain, or nothing limited, swings nothing; a bad plan is refused") {
    CHECK(ceiling_sensitivity(plan_of(certain)).value().empty());
    CHECK(
        ceiling_sensitivity(plan_of(exchanged(two_outcomes, R"("profit": 4000, "loss_probability": 0.2, "cash": 20000)",
                                              R"("loss_probability": 1)")))
            .value()
            .empty());
    CeilingPlan plan = plan_of(two_outcomes);
    plan.vat_percent = dec("-1");
    CHECK(ceiling_sensitivity(plan).error().code == "plan.negative");
}
