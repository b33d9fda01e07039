#include "tedge/money/expected_sale.hpp"

#include <algorithm>

#include "profit_simulation.hpp"

namespace tedge::money {

namespace {

// To nine decimals; factors of a plan are of the order of one.
Decimal to_decimal(const Exact& value) {
    const Exact units = value * exact(Decimal::units_per_one);
    return Decimal::from_units(search_limit(units));
}

std::optional<int> mean_months(const CeilingPlan& plan) {
    Exact months = 0, weight = 0;
    for (const Outcome& outcome : plan.outcomes) {
        // It is waited for twice as long where it stays unsold.
        months += exact(outcome.probability) * (1 + exact(outcome.unsold)) * exact_pert_mean(outcome.months);
        weight += exact(outcome.probability);
    }
    if (months == 0) return std::nullopt;
    return static_cast<int>(search_limit(months / weight + Exact(999'999, 1'000'000)));
}

}  // namespace

Expected<ExpectedSale> expected_sale(const CeilingPlan& plan, const Currency& currency,
                                     const std::optional<Money>& margin_price) {
    if (margin_price && margin_price->currency != currency) {
        return fail("money.mixed-currencies", "The plan and the purchase price are in different currencies.",
                    "Record the rate with the purchase.");
    }
    const ProfitModel model(plan);
    Exact costs = 0, worst_costs = 0, cost_factor = 0, worst_factor = 0;
    Exact worst_price = model.highest_price();
    for (const ExactEstimate& cost : model.costs()) {
        costs += cost.mean();
        worst_costs += cost.high;
    }
    for (const Stratum& stratum : model.strata()) {
        cost_factor += stratum.weight * stratum.cost_factor.mean();
        worst_factor = std::max(worst_factor, stratum.cost_factor.high);
        worst_price = std::min(worst_price, stratum.lowest_price());
    }
    // With nothing paid or still to pay the profit is what the sale leaves.
    CeilingPlan bare = plan;
    bare.costs.clear();
    const ProfitModel sale(bare);
    const Purchase nothing_paid{0, margin_price ? exact(margin_price->minor) : Exact(0), 0};
    Exact worst_net = sale.worst_profit(sale.strata().front(), nothing_paid);
    for (const Stratum& stratum : sale.strata())
        worst_net = std::min(worst_net, sale.worst_profit(stratum, nothing_paid));
    const auto price = to_money(model.mean_price(), currency);
    const auto lowest = to_money(worst_price, currency);
    const auto net = to_money(ProfitSimulation(sale, 1).mean(nothing_paid), currency);  // means ask no draw
    const auto lowest_net = to_money(worst_net, currency);
    const auto mean_costs = to_money(costs * cost_factor, currency);
    const auto highest_costs = to_money(worst_costs * worst_factor, currency);
    for (const auto* amount : {&price, &lowest, &net, &lowest_net, &mean_costs, &highest_costs})
        if (!*amount) return pass_on(*amount);
    return ExpectedSale{*price,
                        *net,
                        *lowest,
                        *lowest_net,
                        *mean_costs,
                        *highest_costs,
                        to_decimal(cost_factor),
                        to_decimal(worst_factor),
                        mean_months(plan)};
}

}  // namespace tedge::money
