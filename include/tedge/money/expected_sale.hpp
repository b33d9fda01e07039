// What a plan expects of the sale to come, and the least of it: for what a picture that is bought may still bring.
//
// The mean price is exact (means of products of independent values are products of means), winner's curse and the
// chance of staying unsold in it, and the VAT is the mean of what each price would owe: as in ceiling.hpp, of which
// this is the part that is still to come. The worst case is the lowest price of the lowest outcome in the lowest
// condition, unsold where it may stay so.
#pragma once

#include <optional>

#include "tedge/base/money.hpp"
#include "tedge/money/ceiling_plan.hpp"

namespace tedge::money {

struct ExpectedSale {
    Money price;  // mean
    Money net;    // price less commission and VAT
    Money worst_price;
    Money worst_net;
    Money costs;                  // of the plan, mean, the condition's factor in them
    Money worst_costs;            // every cost at its highest under the largest factor
    Decimal cost_factor{};        // mean
    Decimal worst_cost_factor{};  // largest
    std::optional<int> months{};  // mean, rounded up; none where the plan says none
};

// `currency`: of the plan's prices and costs. `margin_price`: what was paid for the lot, for the margin scheme; without
// it a margin scheme is taxed as if it had cost nothing. The plan must have passed check(). Errors: money.out-of-range,
// money.mixed-currencies (the margin price in another currency).
[[nodiscard]] Expected<ExpectedSale> expected_sale(const CeilingPlan& plan, const Currency& currency,
                                                   const std::optional<Money>& margin_price);

}  // namespace tedge::money
