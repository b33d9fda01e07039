// What records say, to be summed up.
#pragma once

#include <optional>

#include "tedge/base/decimal.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/casebook/record.hpp"
#include "tedge/money/sums.hpp"

namespace tedge::usecases {

using money::add_to;
using money::take_from;

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
