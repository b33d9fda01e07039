// The royalty before rounding, for prices that pass it on.
#pragma once

#include "exact.hpp"
#include "tedge/money/resale_royalty.hpp"

namespace tedge::money {

[[nodiscard]] Exact exact_royalty(const RoyaltyRules& rules, const Exact& price_minor);

}  // namespace tedge::money
