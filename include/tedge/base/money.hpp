// Money: integer minor units with an ISO 4217 code. Rounding is explicit and named at each place it happens.
#pragma once

#include <array>
#include <compare>
#include <cstdint>
#include <string>
#include <string_view>

#include "tedge/base/decimal.hpp"
#include "tedge/base/error.hpp"
#include "tedge/base/wide_integer.hpp"

namespace tedge {

// An ISO 4217 alphabetic code with the number of decimals its minor unit has (GBP 2, JPY 0, TND 3).
class Currency {
public:
    // Errors: money.unknown-currency. Table: ISO 4217 list one, exponents other than 2 from that list (from memory).
    [[nodiscard]] static Expected<Currency> parse(std::string_view code);

    [[nodiscard]] std::string_view code() const { return {code_.data(), code_.size()}; }
    [[nodiscard]] int decimals() const { return decimals_; }
    [[nodiscard]] std::int64_t minor_per_major() const;

    friend bool operator==(const Currency&, const Currency&) = default;

private:
    Currency(std::array<char, 3> code, int decimals) : code_(code), decimals_(decimals) {}
    std::array<char, 3> code_;
    int decimals_;
};

enum class Rounding { half_away_from_zero, toward_zero, down, up };

struct Money {
    std::int64_t minor = 0;  // pennies, cents
    Currency currency;

    friend bool operator==(const Money&, const Money&) = default;
};

// "1234.50" in major units, read from its text, exactly. Errors: money.not-an-amount, money.too-many-decimals (more
// decimals than the currency has), money.out-of-range (beyond ±9e15 minor units, so that sums cannot overflow).
[[nodiscard]] Expected<Money> parse_money(std::string_view text, const Currency& currency);

// "1234.50": major units, all decimals of the currency, no grouping. For records, JSON and CSV.
[[nodiscard]] std::string to_decimal_text(const Money& money);

// "GBP 1,234.50": for people, grouped by thousands. Locale-free.
[[nodiscard]] std::string to_display_text(const Money& money);

// Errors: money.mixed-currencies, money.out-of-range.
[[nodiscard]] Expected<Money> add(const Money& a, const Money& b);
[[nodiscard]] Expected<Money> subtract(const Money& a, const Money& b);

// percent % of the amount, exactly, then rounded as said. Errors: money.out-of-range.
[[nodiscard]] Expected<Money> percent_of(const Money& money, Decimal percent, Rounding rounding);

// numerator / denominator rounded to an integer as said; denominator > 0. The one place where rounding is written.
[[nodiscard]] WideInteger divide_rounded(WideInteger numerator, WideInteger denominator, Rounding rounding);

}  // namespace tedge
