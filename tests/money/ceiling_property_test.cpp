// Random plans, uncertain in every way: each ceiling agrees with the profit shown at its hammer price and a penny
// above. What can be reckoned in exact fractions is held there, in ceiling_exact_test.cpp.
#include <catch2/catch.hpp>

#include "random_plans.hpp"
#include "tedge/money/invoice.hpp"

using namespace tedge;
using namespace tedge::money;
using namespace tedge::test;

namespace {

void check_target_and_risk(const CeilingPlan& plan, const CeilingReport& report, const CeilingOptions& options) {
    const auto at = [&](std::int64_t minor) { return profit_at(plan, {Money{minor, pounds()}}, options).value()[0]; };
    const std::int64_t target = report.target->hammer.minor;
    const std::int64_t risk = report.risk->hammer.minor;
    const double accepted = plan.target.loss_probability->to_double();
    if (target > 0) CHECK(at(target).expected_profit.minor >= *plan.target.profit_minor);
    CHECK(at(target + 1).expected_profit.minor <= *plan.target.profit_minor);
    if (risk > 0) CHECK(at(risk).loss_probability <= accepted);
    CHECK(at(risk + 1).loss_probability > accepted);
}

void check_bid(const CeilingPlan& plan, const CeilingReport& report) {
    std::int64_t lowest = std::numeric_limits<std::int64_t>::max();
    for (const auto* ceiling : {&report.target, &report.risk, &report.cash}) {
        const Ceiling& found = ceiling->value();
        CHECK(found.bid.minor == plan.sale.increments.highest_not_above(found.hammer.minor).value_or(0));
        CHECK((found.bid.minor == 0) == found.reason.has_value());
        lowest = std::min(lowest, found.hammer.minor);
    }
    CHECK(report.bid->minor == plan.sale.increments.highest_not_above(lowest).value_or(0));
    CHECK(report.at_bid.has_value() == (report.bid->minor > 0));
    if (report.at_bid) CHECK(report.at_bid->all_in == invoice(plan.sale, *report.bid).value().total);
}

}  // namespace

TEST_CASE("each ceiling agrees with the profit shown at its hammer price and a penny above") {
    constexpr CeilingOptions few{.draws = 2048};
    RandomPlans random(7);
    int bids = 0;
    for (int i = 0; i < 150; ++i) {
        INFO("plan " << i);
        const CeilingPlan plan = random.plan();
        const auto report = solve_ceiling(plan, few);
        REQUIRE(report);
        check_target_and_risk(plan, *report, few);
        check_bid(plan, *report);
        bids += report->bid->minor > 0 ? 1 : 0;
    }
    CHECK(bids > 30);
}
