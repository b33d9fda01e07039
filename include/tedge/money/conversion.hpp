// An amount in another currency, at the rate that was recorded with it. Nothing is converted at a rate nobody wrote
// down, and amounts in several currencies are never added up.
#pragma once

#include "tedge/base/decimal.hpp"
#include "tedge/base/money.hpp"

namespace tedge::money {

// One major unit of the amount's currency counts for `rate` major units of `to`.
struct ConversionRate {
    Currency to;
    Decimal rate{};
};

// Rounded half away from zero to the minor unit of `to`. An amount that is in `to` already stays as it is, whatever the
// rate. Errors: money.rate-not-above-zero, money.out-of-range.
[[nodiscard]] Expected<Money> convert(const Money& amount, const ConversionRate& rate);

}  // namespace tedge::money
