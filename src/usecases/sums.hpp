// Running sums of money that stop at the first amount that does not fit.
#pragma once

#include <optional>

#include "tedge/base/clock.hpp"
#include "tedge/base/decimal.hpp"
#include "tedge/base/money.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/casebook/record.hpp"

namespace tedge::usecases {

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

// A number of a record as it was typed: shares and rates are reckoned with exactly.
[[nodiscard]] inline std::optional<Decimal> decimal_at(const casebook::Body& body, std::string_view path) {
    const auto number = body.number(path);
    if (!number) return std::nullopt;
    const auto decimal = Decimal::parse(format_number(*number));
    if (decimal) return *decimal;
    const auto rounded = Decimal::parse(format_fixed(*number, 9));  // more than nine decimals
    return rounded ? std::optional(*rounded) : std::nullopt;
}

}  // namespace tedge::usecases
