// Amounts between text, money and JSON: decimal numbers in major units.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>

#include "tedge/base/money.hpp"
#include "tedge/base/number_text.hpp"

namespace tedge::cli {

// The shortest decimal that names the amount; doubles print it exactly up to 9e15 minor units.
[[nodiscard]] inline nlohmann::json amount(const Money& money) {
    return parse_number(to_decimal_text(money)).value_or(0.0);
}
[[nodiscard]] inline nlohmann::json amount(const std::optional<Money>& money) {
    return money ? amount(*money) : nlohmann::json(nullptr);
}

}  // namespace tedge::cli
