// Exact fractions, as large as they need to be: rates multiply rates, and nothing is rounded before it is shown.
#pragma once

#include <gmpxx.h>

#include <cstdint>

#include "tedge/base/decimal.hpp"
#include "tedge/base/estimate.hpp"
#include "tedge/base/money.hpp"

namespace tedge::money {

using Exact = mpq_class;

[[nodiscard]] Exact exact(std::int64_t value);
[[nodiscard]] Exact exact(Decimal value);
[[nodiscard]] Exact percent(Decimal value);       // 17.5 -> 7/40
[[nodiscard]] Exact tax_inside(Decimal percent);  // r/(100 + r): the tax inside a price that holds it
[[nodiscard]] Exact pert_mean(const Exact& low, const Exact& likely, const Exact& high);

template <class T>
[[nodiscard]] Exact exact_pert_mean(const Estimate<T>& e) {
    return pert_mean(exact(e.low), exact(e.likely), exact(e.high));
}

// Minor units of one currency for a minor unit of another.
struct Exchange;
[[nodiscard]] Exact exchange_factor(const Exchange& exchange, const Currency& from);

// Rounded to whole minor units. Errors: money.out-of-range.
[[nodiscard]] Expected<Money> to_money(const Exact& minor, const Currency& currency,
                                       Rounding rounding = Rounding::half_away_from_zero);

// Rounded down and held within 0 and the largest amount that Money counts: an upper end for a search.
[[nodiscard]] std::int64_t search_limit(const Exact& minor);

}  // namespace tedge::money
