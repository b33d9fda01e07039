// Exact decimal fractions read from their text: rates, percentages, shares. No binary rounding anywhere.
#pragma once

#include <compare>
#include <cstdint>
#include <string>
#include <string_view>

#include "tedge/base/error.hpp"

namespace tedge {

// A number with at most nine decimals, held as a count of 1e-9. Range about ±9.2e9.
class Decimal {
public:
    static constexpr std::int64_t units_per_one = 1'000'000'000;

    constexpr Decimal() = default;
    [[nodiscard]] static constexpr Decimal from_units(std::int64_t units) { return Decimal(units); }
    [[nodiscard]] static constexpr Decimal from_integer(std::int32_t value) { return Decimal(value * units_per_one); }

    // "20", "-2.5", "0.125", "1e-3", "2.5E1" (as JSON writes numbers). Errors: decimal.not-a-number,
    // decimal.too-many-decimals, decimal.out-of-range.
    [[nodiscard]] static Expected<Decimal> parse(std::string_view text);

    [[nodiscard]] constexpr std::int64_t units() const { return units_; }
    [[nodiscard]] constexpr double to_double() const { return static_cast<double>(units_) / 1e9; }
    [[nodiscard]] std::string to_text() const;  // shortest: "17.5", "20"

    friend constexpr auto operator<=>(Decimal, Decimal) = default;

private:
    explicit constexpr Decimal(std::int64_t units) : units_(units) {}
    std::int64_t units_ = 0;
};

}  // namespace tedge
