// soak_random_plans [COUNT] [SEED]: so many random plans, 256 draws each; two million where nothing is said. Each is
// solved, or refused with a field and a reason. Worth its time in the sanitizer build: there no plan may read what is
// not its own, divide by nothing or overflow. Ends with 1 at the first plan that breaks a promise, and prints it.
#include <cstdio>
#include <cstdlib>
#include <string>

#include "random_plan_texts.hpp"
#include "tedge/base/number_text.hpp"

int main(int count, char** words) {
    const auto number = [&](int at, std::int64_t otherwise) {
        return count > at ? tedge::parse_integer(words[at]).value_or(0) : otherwise;
    };
    const std::int64_t plans = number(1, 2'000'000);
    const std::int64_t seed = number(2, 1);
    if (plans < 1 || seed < 0) {
        std::fputs("soak_random_plans [COUNT] [SEED]\n", stderr);
        return 2;
    }
    tedge::test::RandomPlanTexts random(static_cast<std::uint64_t>(seed));
    std::int64_t solved_plans = 0;
    for (std::int64_t i = 0; i < plans; ++i) {
        const std::string text = random.plan();
        bool solved = false;
        const std::string broken = tedge::test::broken_promise(text, {.draws = 256}, solved);
        if (!broken.empty()) {
            std::printf("plan %lld: %s\n%s\n", static_cast<long long>(i), broken.c_str(), text.c_str());
            return 1;
        }
        solved_plans += solved ? 1 : 0;
        if ((i + 1) % 50'000 == 0 || i + 1 == plans) {
            std::printf("%lld plans, %lld solved, the others refused with field and reason\n",
                        static_cast<long long>(i + 1), static_cast<long long>(solved_plans));
            std::fflush(stdout);
        }
    }
    return 0;
}
