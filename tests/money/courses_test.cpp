// Own arithmetic where everything is certain; elsewhere held against solve_ceiling and profit_at, which have checks of
// their own.
#include "tedge/money/courses.hpp"

#include <catch2/catch.hpp>

#include "plan_texts.hpp"
#include "reference_rows.hpp"

using namespace tedge;
using namespace tedge::money;
using namespace tedge::test;

namespace {

// The certain plan, and 9,000 after two months for it as found, with 250 to bring it home.
std::string with_as_found() {
    return exchanged(certain, R"("target": {"profit": 4000})",
                     R"("target": {"profit": 4000, "loss_probability": 0, "cash": 16000},
                        "as_found": {"price": 9000, "months": 2, "costs": [{"name": "carriage", "amount": 250}]})");
}

AlreadySpent bought_at_8500(std::string_view costs = "0") {
    return {gbp("11050"), gbp("11050"), gbp("0"), gbp(costs)};
}

AsFound for_certain(std::string_view price) {
    return {.price_minor = Estimate<std::int64_t>::certain(gbp(price).minor)};
}

}  // namespace

TEST_CASE("sold as found stands beside the plan, at the same hammer price") {
    const auto beside = plans_beside_one_another({{"clean and line", plan_of(with_as_found())}}).value();
    REQUIRE(beside.plans.size() == 2);
    CHECK(text(*beside.hammer) == "8500.00");
    CHECK(beside.plans[1].name == "as found");
    CHECK(text(beside.plans[0].at_hammer->expected_profit) == "4458.33");
    CHECK(text(beside.plans[1].at_hammer->expected_profit) == "-2300.00");  // 9,000 − 11,050 − 250, no margin, no VAT
    CHECK(beside.plans[1].at_hammer->loss_probability == 1.0);
    // 5/6 (9,000 − P) − 250 = 4,000: P = 3,900, H = 3,000
    CHECK(text(beside.plans[1].report.target->hammer) == "3000.00");
    CHECK(beside.remarks.empty());
}

TEST_CASE("two plans beside one another, and at a hammer price of one's own") {
    const CeilingPlan dear = plan_of(certain);
    const CeilingPlan modest = plan_of(exchanged(certain, "20000", "17000"));
    const auto beside = plans_beside_one_another({{"a", dear}, {"b", modest}}, gbp("8000")).value();
    REQUIRE(beside.plans.size() == 2);
    CHECK(text(beside.plans[0].at_hammer->expected_profit) == "5000.00");  // 5/6 (20,000 − 10,400) − 3,000
    CHECK(text(beside.plans[1].at_hammer->expected_profit) == "2500.00");
    REQUIRE(beside.remarks.size() == 1);
    CHECK(beside.remarks[0].code == "courses.as-found-not-said");
    const CeilingPlan euros = plan_of(exchanged(certain, "GBP", "EUR"));
    CHECK(plans_beside_one_another({{"a", dear}, {"b", euros}}).error().code == "money.mixed-currencies");
    CeilingPlan bad = dear;
    bad.outcomes.clear();
    CHECK(plans_beside_one_another({{"a", dear}, {"b", bad}}).error().values.at("plan") == "b");
}

TEST_CASE("after the purchase: what each course leads to, and what may still be spent") {
    const auto report = weigh_courses(plan_of(with_as_found()), bought_at_8500()).value();
    REQUIRE(report.courses.size() == 2);
    CHECK(report.courses[0].course == Course::go_on);
    CHECK(text(report.courses[0].expected_profit) == "4458.33");
    CHECK(text(report.courses[0].still_to_spend) == "3000.00");
    CHECK(text(report.courses[1].expected_profit) == "-2300.00");
    CHECK(report.best == Course::go_on);
    // 20,000 − 8,950/6 − 11,050 = 7,458.33 before any cost
    CHECK(text(*report.may_be_spent.target) == "3458.33");
    CHECK(text(*report.may_be_spent.risk) == "7458.33");
    CHECK(text(*report.may_be_spent.cash) == "4950.00");
    CHECK(text(*report.may_be_spent.stop) == "9758.33");  // until it loses 2,300 as well
    CHECK(text(*report.lowest) == "3458.33");
    CHECK(report.remarks.empty());
}

TEST_CASE("what was spent on the way is gone, and the margin does not know of it") {
    const auto report = weigh_courses(plan_of(with_as_found()), bought_at_8500("2000")).value();
    CHECK(text(report.courses[0].expected_profit) == "2458.33");
    CHECK(text(report.courses[1].expected_profit) == "-4300.00");
    CHECK(text(*report.may_be_spent.target) == "1458.33");
    CHECK(text(*report.may_be_spent.cash) == "2950.00");
    REQUIRE(report.remarks.size() == 1);
    CHECK(report.remarks[0].code == "courses.plan-exceeds-limit");
    // nothing is left once more than the cash has gone
    CHECK(text(*weigh_courses(plan_of(with_as_found()), bought_at_8500("9000")).value().may_be_spent.cash) == "0.00");
}

TEST_CASE("when the picture proves to be little, stopping is named") {
    const CeilingPlan plan = plan_of(exchanged(certain, "20000", "12000"));
    // go on: 12,000 − 950/6 − 11,050 − 3,000 = −2,208.33; as it stands 10,500: −550
    const auto report = weigh_courses(plan, bought_at_8500(), for_certain("10500")).value();
    CHECK(text(report.courses[0].expected_profit) == "-2208.33");
    CHECK(text(report.courses[1].expected_profit) == "-550.00");
    CHECK(report.best == Course::sell_as_it_stands);
    CHECK(text(*report.may_be_spent.stop) == "1341.66");  // 791.67 + 550, the penny below
    CHECK(course_name(report.best) == "sell as it stands");
}

TEST_CASE("the courses of an uncertain plan are those of its hammer price") {
    const CeilingPlan plan = plan_of(two_outcomes);
    const auto at = profit_at(plan, {gbp("3200")}).value()[0];
    const AlreadySpent spent{at.all_in, at.margin_price, gbp("0"), gbp("0")};
    const auto report = weigh_courses(plan, spent).value();
    CHECK(report.courses[0].expected_profit == at.expected_profit);
    CHECK(report.courses[0].loss_probability == at.loss_probability);
    CHECK(report.courses[0].quantiles.p5 == at.quantiles.p5);
    CHECK(text(report.courses[0].still_to_spend_high) == "4950.00");  // (1,800 + 450) × 2.2
    CHECK(report.remarks[0].code == "courses.stopping-not-said");
    // spending exactly what may still be spent reaches the profit wanted, a penny more does not
    CeilingPlan spending = plan;
    const auto profit_after = [&](std::int64_t minor) {
        spending.costs = {{.name = "all", .amount_minor = Estimate<std::int64_t>::certain(minor)}};
        spending.conditions.clear();
        return weigh_courses(spending, spent).value().courses[0].expected_profit.minor;
    };
    CeilingPlan sound = plan;
    sound.conditions.clear();
    const std::int64_t most = weigh_courses(sound, spent).value().may_be_spent.target->minor;
    CHECK(most > 0);
    CHECK(profit_after(most) >= *plan.target.profit_minor);
    CHECK(profit_after(most + 2) <= *plan.target.profit_minor);
}

TEST_CASE("what cannot have been spent is refused with its field") {
    AlreadySpent spent = bought_at_8500();
    spent.costs.minor = -1;
    CHECK(weigh_courses(plan_of(certain), spent).error().values.at("field") == "costs");
    spent = bought_at_8500();
    spent.all_in = parse_money("5", Currency::parse("EUR").value()).value();
    CHECK(weigh_courses(plan_of(certain), spent).error().code == "money.mixed-currencies");
    CHECK(weigh_courses(plan_of(certain), spent).error().values.at("field") == "all_in");
    AsFound stands = for_certain("100");
    stands.unsold = dec("1.5");
    CHECK(weigh_courses(plan_of(certain), bought_at_8500(), stands).error().code == "plan.out-of-range");
}

TEST_CASE("one outcome takes what the others leave") {
    const auto plan = plan_of(exchanged(two_outcomes, R"("probability": 0.6)", R"("remainder": true)"));
    CHECK(plan.outcomes[1].probability == dec("0.6"));
    const auto fault = [](std::string_view piece, std::string_view other) {
        const auto refused = parse_ceiling_plan(exchanged(two_outcomes, piece, other));
        return refused ? std::string("none") : refused.error().code + " " + refused.error().values.at("field");
    };
    CHECK(fault(R"("probability": 0.6)", R"("probability": 0.6, "remainder": true)") ==
          "plan.contradiction outcomes[1].probability");
    CHECK(fault(R"("probability": 0.6)", R"("remainder": 1)") == "plan.wrong-kind outcomes[1].remainder");
    CHECK(fault(R"("probability": 0.4, "price": [15000, 20000, 32000], "months": [3, 8, 24],
               "unsold": 0.05},
              {"name": "studio", "probability": 0.6)",
                R"("remainder": true, "price": 5}, {"remainder": true)") == "plan.contradiction outcomes[1].remainder");
    auto three = exchanged(two_outcomes, R"("outcomes": [)",
                           R"("outcomes": [{"name": "no name", "remainder": true, "price": 800, "months": 4}, )");
    CHECK(plan_of(three).outcomes[0].probability == Decimal{});
    three = exchanged(three, R"("probability": 0.6)", R"("probability": 0.7)");
    CHECK(parse_ceiling_plan(three).error().code == "plan.probabilities");
}

TEST_CASE("a sale as found is read, and what is wrong in it named") {
    const CeilingPlan plan = plan_of(with_as_found());
    REQUIRE(plan.as_found);
    CHECK(plan.as_found->price_minor.likely == gbp("9000").minor);
    CHECK(plan.as_found->costs[0].name == "carriage");
    CHECK_FALSE(as_found_plan(plan_of(certain)));
    const auto fault = [](std::string_view piece, std::string_view other) {
        return parse_ceiling_plan(exchanged(with_as_found(), piece, other)).error().values.at("field");
    };
    CHECK(fault(R"("price": 9000)", R"("price": -9000)") == "as_found.price");
    CHECK(fault(R"("price": 9000)", R"("price": [3, 2, 1])") == "as_found.price");
    CHECK(fault(R"("price": 9000,)", "") == "as_found.price");
    CHECK(fault(R"("amount": 250)", R"("amount": -250)") == "as_found.costs[0].amount");
    CHECK(fault(R"("months": 2)", R"("month": 2)") == "as_found.month");
}
