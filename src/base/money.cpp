#include "tedge/base/money.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace tedge {

namespace {

// Far from the edge of int64, so that adding a few thousand of them cannot overflow.
constexpr WideInteger largest_minor = 9'000'000'000'000'000;

// Active codes of ISO 4217 list one whose amounts are counted in other than hundredths (from memory of that list).
constexpr std::array<std::string_view, 16> without_decimals{"BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW",
                                                            "PYG", "RWF", "UGX", "UYI", "VND", "VUV", "XAF", "XOF"};
constexpr std::array<std::string_view, 7> with_three_decimals{"BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"};

// The others in use, hundredths all.
constexpr std::string_view with_two_decimals =
    "AED AFN ALL AMD ANG AOA ARS AUD AWG AZN BAM BBD BDT BGN BMD BND BOB BRL BSD BTN BWP BYN BZD CAD CDF CHF CNY COP "
    "CRC CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GTQ GYD HKD HNL HTG HUF IDR ILS INR IRR "
    "JMD KES KGS KHR KPW KYD KZT LAK LBP LKR LRD LSL MAD MDL MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MYR MZN NAD NGN "
    "NIO NOK NPR NZD PAB PEN PGK PHP PKR PLN QAR RON RSD RUB SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SVC SYP "
    "SZL THB TJS TMT TOP TRY TTD TWD TZS UAH USD UYU UZS VES WST XCD YER ZAR ZMW ZWL";

int decimals_of(std::string_view code) {
    if (std::ranges::find(without_decimals, code) != without_decimals.end()) return 0;
    if (std::ranges::find(with_three_decimals, code) != with_three_decimals.end()) return 3;
    const std::size_t at = with_two_decimals.find(code);
    return at != std::string_view::npos && at % 4 == 0 ? 2 : -1;
}

Expected<Money> in_range(WideInteger minor, const Currency& currency) {
    if (minor > largest_minor || minor < -largest_minor) {
        return fail("money.out-of-range", "The amount is too large to be counted safely.",
                    "Check the number of digits.");
    }
    return Money{static_cast<std::int64_t>(minor), currency};
}

std::string grouped(std::string digits) {
    for (std::size_t at = digits.size(); at > 3;) {
        at -= 3;
        digits.insert(at, ",");
    }
    return digits;
}

std::string decimal_text(const Money& money, bool group) {
    const bool negative = money.minor < 0;
    const std::uint64_t magnitude =
        negative ? 0U - static_cast<std::uint64_t>(money.minor) : static_cast<std::uint64_t>(money.minor);
    const auto scale = static_cast<std::uint64_t>(money.currency.minor_per_major());
    std::string whole = fmt::format("{}", magnitude / scale);
    if (group) whole = grouped(std::move(whole));
    const int decimals = money.currency.decimals();
    return decimals == 0 ? fmt::format("{}{}", negative ? "-" : "", whole)
                         : fmt::format("{}{}.{:0{}}", negative ? "-" : "", whole, magnitude % scale, decimals);
}

}  // namespace

Expected<Currency> Currency::parse(std::string_view code) {
    const int decimals = code.size() == 3 && code.find(' ') == std::string_view::npos ? decimals_of(code) : -1;
    if (decimals < 0) {
        return fail("money.unknown-currency", fmt::format("\"{}\" is not a currency code.", code),
                    "Use the three letters of ISO 4217, such as GBP or EUR.", {{"text", std::string(code)}});
    }
    return Currency({code[0], code[1], code[2]}, decimals);
}

std::int64_t Currency::minor_per_major() const {
    std::int64_t scale = 1;
    for (int i = 0; i < decimals_; ++i) scale *= 10;
    return scale;
}

WideInteger divide_rounded(WideInteger numerator, WideInteger denominator, Rounding rounding) {
    const WideInteger quotient = numerator / denominator;
    const WideInteger rest = numerator % denominator;
    const int sign = numerator < 0 ? -1 : 1;
    if (rest == 0) return quotient;
    switch (rounding) {
        case Rounding::toward_zero:
            return quotient;
        case Rounding::down:
            return sign < 0 ? quotient - 1 : quotient;
        case Rounding::up:
            return sign < 0 ? quotient : quotient + 1;
        case Rounding::half_away_from_zero:
            break;
    }
    const WideInteger magnitude = rest < 0 ? -rest : rest;
    return magnitude >= denominator - magnitude ? quotient + sign : quotient;
}

Expected<Money> parse_money(std::string_view text, const Currency& currency) {
    const auto amount = Decimal::parse(text);
    if (!amount) {
        if (amount.error().code == "decimal.too-many-decimals") {
            return fail("money.too-many-decimals",
                        fmt::format("{} has more decimals than {} has.", text, currency.code()));
        }
        if (amount.error().code == "decimal.out-of-range") {
            return fail("money.out-of-range", "The amount is too large to be counted safely.",
                        "Check the number of digits.", {{"text", std::string(text)}});
        }
        return fail("money.not-an-amount", fmt::format("\"{}\" is not an amount of money.", text),
                    "Write digits with a point before the pennies.", {{"text", std::string(text)}});
    }
    const std::int64_t per_minor = Decimal::units_per_one / currency.minor_per_major();
    if (amount->units() % per_minor != 0) {
        return fail("money.too-many-decimals",
                    fmt::format("{} has more decimals than {} has ({}).", text, currency.code(), currency.decimals()),
                    "Round it to what can be paid.", {{"text", std::string(text)}});
    }
    return in_range(amount->units() / per_minor, currency);
}

std::string to_decimal_text(const Money& money) {
    return decimal_text(money, false);
}

std::string to_display_text(const Money& money) {
    return fmt::format("{} {}", money.currency.code(), decimal_text(money, true));
}

Expected<Money> add(const Money& a, const Money& b) {
    if (a.currency != b.currency) {
        return fail("money.mixed-currencies",
                    fmt::format("Amounts in {} and {} cannot be added.", a.currency.code(), b.currency.code()),
                    "Convert one of them first, with the rate and its date.");
    }
    return in_range(static_cast<WideInteger>(a.minor) + b.minor, a.currency);
}

Expected<Money> subtract(const Money& a, const Money& b) {
    return add(a, Money{-b.minor, b.currency});
}

Expected<Money> percent_of(const Money& money, Decimal percent, Rounding rounding) {
    const WideInteger numerator = static_cast<WideInteger>(money.minor) * percent.units();
    return in_range(divide_rounded(numerator, static_cast<WideInteger>(Decimal::units_per_one) * 100, rounding),
                    money.currency);
}

}  // namespace tedge
