// Running sums of money that stop at the first amount that does not fit.
#pragma once

#include "tedge/base/money.hpp"

namespace tedge::money {

// Errors: those of the amount, money.mixed-currencies, money.out-of-range.
[[nodiscard]] inline Expected<void> add_to(Money& sum, const Expected<Money>& amount) {
    if (!amount) return pass_on(amount);
    const auto more = add(sum, *amount);
    if (!more) return pass_on(more);
    sum = *more;
    return {};
}
[[nodiscard]] inline Expected<void> take_from(Money& sum, const Expected<Money>& amount) {
    if (!amount) return pass_on(amount);
    const auto less = subtract(sum, *amount);
    if (!less) return pass_on(less);
    sum = *less;
    return {};
}

}  // namespace tedge::money
