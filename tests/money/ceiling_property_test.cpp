// Random plans: each ceiling holds at its hammer price and fails one penny above.
#include <catch2/catch.hpp>

#include <random>

#include "plan_texts.hpp"
#include "reference_rows.hpp"
#include "tedge/money/invoice.hpp"

using namespace tedge;
using namespace tedge::test;

namespace {

class RandomPlans {
public:
    explicit RandomPlans(std::uint64_t seed) : random_(seed) {}

    CeilingPlan plan() {
        CeilingPlan plan{.sale = sale()};
        plan.selling = static_cast<Selling>(below(4));
        plan.vat_percent = Decimal::from_integer(static_cast<std::int32_t>(below(26)));
        for (std::uint64_t i = below(4); i > 0; --i) plan.costs.push_back({.amount_minor = amounts(200'000)});
        const std::uint64_t outcomes = 1 + below(3);
        for (std::uint64_t i = 0; i < outcomes; ++i) plan.outcomes.push_back(outcome(outcomes, i));
        if (below(2) == 0) {
            plan.conditions = {{.probability = dec("0.75")},
                               {.probability = dec("0.25"), .price_factor = factors(), .cost_factor = factors()}};
        }
        plan.selling_commission_percent = Decimal::from_integer(static_cast<std::int32_t>(below(15)));
        plan.finance_percent_a_year = Decimal::from_integer(static_cast<std::int32_t>(below(12)));
        plan.bidders = {Decimal::from_integer(static_cast<std::int32_t>(below(8))), dec("0.2")};
        plan.target = {.profit_minor = static_cast<std::int64_t>(below(500'000)),
                       .loss_probability = Decimal::from_units(static_cast<std::int64_t>(below(900'000'000))),
                       .cash_minor = static_cast<std::int64_t>(below(5'000'000))};
        return plan;
    }

private:
    std::uint64_t below(std::uint64_t end) { return random_() % end; }

    SaleTerms sale() {
        SaleTerms terms{.currency = pounds()};
        terms.premium = {{static_cast<std::int64_t>(1 + below(2'000'000)),
                          Decimal::from_units(static_cast<std::int64_t>(below(30'000'000'000)))},
                         {std::nullopt, Decimal::from_integer(static_cast<std::int32_t>(below(30)))}};
        terms.premium_includes_vat = below(3) == 0;
        terms.minimum_premium_minor = below(2) == 0 ? static_cast<std::int64_t>(below(9'000)) : 0;
        terms.vat_on_premium_percent = dec("20");
        terms.vat_on_hammer_percent = Decimal::from_integer(static_cast<std::int32_t>(5 * below(3)));
        terms.surcharge_percent = dec("3.6");
        terms.fixed_fees_minor = static_cast<std::int64_t>(below(5'000));
        if (below(2) == 0) terms.royalty = current_royalty_rules();
        terms.increments = Increments::named("common", pounds()).value();
        return terms;
    }

    Estimate<std::int64_t> amounts(std::uint64_t size) {
        const auto low = static_cast<std::int64_t>(below(size));
        if (below(4) == 0) return Estimate<std::int64_t>::certain(low);
        const auto likely = low + static_cast<std::int64_t>(below(size));
        return {low, likely, likely + static_cast<std::int64_t>(below(size))};
    }

    Estimate<Decimal> factors() {
        const auto low = static_cast<std::int64_t>(100'000'000 + below(900'000'000));
        const auto likely = low + static_cast<std::int64_t>(below(500'000'000));
        return {Decimal::from_units(low), Decimal::from_units(likely), Decimal::from_units(likely + 100'000'000)};
    }

    Outcome outcome(std::uint64_t of, std::uint64_t at) {
        const std::int64_t share = Decimal::units_per_one / static_cast<std::int64_t>(of);
        return {.probability = Decimal::from_units(share),
                .price_minor = amounts(at == 0 ? 3'000'000 : 1'000'000),
                .months = {dec("2"), dec("5"), dec("20")},
                .unsold = Decimal::from_units(static_cast<std::int64_t>(below(400'000'000)))};
    }

    std::mt19937_64 random_;
};

std::int64_t highest_costs(const CeilingPlan& plan) {
    std::int64_t factor = plan.conditions.empty() ? Decimal::units_per_one : 0;
    for (const Condition& c : plan.conditions) factor = std::max(factor, c.cost_factor.high.units());
    std::int64_t costs = 0;
    for (const CostLine& line : plan.costs) costs += line.amount_minor.high;
    return costs * factor / Decimal::units_per_one;  // whole pennies: enough for a comparison to the penny
}

void check_cash(const CeilingPlan& plan, const Ceiling& cash) {
    const std::int64_t left = *plan.target.cash_minor - highest_costs(plan);
    if (cash.hammer.minor > 0) CHECK(invoice(plan.sale, cash.hammer).value().total.minor <= left);
    // Both sides are rounded to pennies here: they may meet a penny before the exact amounts do.
    CHECK(invoice(plan.sale, {cash.hammer.minor + 1, pounds()}).value().total.minor >= left - 1);
}

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

TEST_CASE("each ceiling holds at its hammer price and fails a penny above") {
    constexpr CeilingOptions few{.draws = 2048};
    RandomPlans random(7);
    int bids = 0;
    for (int i = 0; i < 150; ++i) {
        INFO("plan " << i);
        const CeilingPlan plan = random.plan();
        const auto report = solve_ceiling(plan, few);
        REQUIRE(report);
        check_cash(plan, *report->cash);
        check_target_and_risk(plan, *report, few);
        check_bid(plan, *report);
        bids += report->bid->minor > 0 ? 1 : 0;
    }
    CHECK(bids > 30);
}
