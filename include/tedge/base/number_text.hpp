// Numbers to text and back without any locale: "1234.5" everywhere, whatever LC_ALL says.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "tedge/base/error.hpp"

namespace tedge {

// The whole text must be one number; no blanks, no leading "+", no hexadecimal, no infinities.
// Errors: number.not-a-number, number.out-of-range.
[[nodiscard]] Expected<double> parse_number(std::string_view text);
[[nodiscard]] Expected<std::int64_t> parse_integer(std::string_view text);

// Shortest text that reads back as the same double ("0.1", "1e+22"). Not finite: "nan", "inf", "-inf".
[[nodiscard]] std::string format_number(double value);

// Exactly `decimals` digits after the point, halves away from zero as printed decimals are read ("2.50"); never
// "-0.00".
[[nodiscard]] std::string format_fixed(double value, int decimals);

}  // namespace tedge
