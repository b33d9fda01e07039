// The price of a lot in exact fractions of a minor unit.
#pragma once

#include <cstdint>

#include "exact.hpp"
#include "tedge/money/sale_terms.hpp"

namespace tedge::money {

struct PriceParts {
    Exact hammer, premium, vat_on_premium, vat_on_hammer, surcharge, vat_on_surcharge, fixed_fees, royalty;

    [[nodiscard]] Exact margin_price() const { return hammer + premium + vat_on_premium + vat_on_hammer; }
    [[nodiscard]] Exact all_in() const { return margin_price() + surcharge + vat_on_surcharge + fixed_fees + royalty; }
    [[nodiscard]] Exact vat_to_recover() const { return vat_on_premium + vat_on_hammer; }
};

// The terms must have passed check(); hammer_minor >= 0.
[[nodiscard]] PriceParts price_parts(const SaleTerms& terms, std::int64_t hammer_minor);

// The largest value in [0, limit] for which `holds` is true; `holds` must be true up to some value and false beyond.
// 0 is taken to hold.
template <class Predicate>
[[nodiscard]] std::int64_t largest_that(std::int64_t limit, Predicate holds) {
    std::int64_t good = 0;
    std::int64_t bad = limit + 1;
    while (bad - good > 1) {
        const std::int64_t middle = good + (bad - good) / 2;
        (holds(middle) ? good : bad) = middle;
    }
    return good;
}

}  // namespace tedge::money
