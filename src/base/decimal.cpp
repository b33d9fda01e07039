#include "tedge/base/decimal.hpp"

#include <fmt/format.h>

#include <charconv>
#include <limits>

#include "tedge/base/wide_integer.hpp"

namespace tedge {

namespace {

constexpr int decimals_kept = 9;

// A decimal literal taken apart: digits without the point, and how many of them stand after it.
struct Literal {
    bool negative = false;
    std::string digits;
    int after_point = 0;
};

std::unexpected<Error> not_a_number(std::string_view text) {
    return fail("decimal.not-a-number", fmt::format("\"{}\" is not a decimal number.", text),
                "Write digits with a point before decimals.", {{"text", std::string(text)}});
}

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

// Reads digits with at most one point; leaves `text` at what follows.
bool take_mantissa(std::string_view& text, Literal& literal) {
    bool point_seen = false;
    while (!text.empty() && (is_digit(text.front()) || (text.front() == '.' && !point_seen))) {
        if (text.front() == '.') {
            point_seen = true;
        } else {
            literal.digits += text.front();
            literal.after_point += point_seen ? 1 : 0;
        }
        text.remove_prefix(1);
    }
    return !literal.digits.empty() && !(point_seen && literal.after_point == 0);
}

bool take_exponent(std::string_view text, Literal& literal) {
    if (text.empty()) return true;
    if (text.front() != 'e' && text.front() != 'E') return false;
    text.remove_prefix(1);
    if (text.starts_with('+')) text.remove_prefix(1);
    int exponent = 0;
    const auto [end, problem] = std::from_chars(text.data(), text.data() + text.size(), exponent);
    if (problem != std::errc() || end != text.data() + text.size() || exponent > 1000 || exponent < -1000) return false;
    literal.after_point -= exponent;
    return true;
}

}  // namespace

Expected<Decimal> Decimal::parse(std::string_view text) {
    Literal literal;
    std::string_view rest = text;
    if (rest.starts_with('-')) {
        literal.negative = true;
        rest.remove_prefix(1);
    }
    if (!take_mantissa(rest, literal) || !take_exponent(rest, literal)) return not_a_number(text);
    while (literal.after_point > decimals_kept && literal.digits.size() > 1 && literal.digits.back() == '0') {
        literal.digits.pop_back();
        --literal.after_point;
    }
    const bool zero = literal.digits.find_first_not_of('0') == std::string::npos;
    if (zero) return Decimal{};
    if (literal.after_point > decimals_kept) {
        return fail("decimal.too-many-decimals", fmt::format("\"{}\" has more than nine decimals.", text),
                    "Round it to nine decimals.", {{"text", std::string(text)}});
    }
    WideInteger units = 0;
    const auto limit = static_cast<WideInteger>(std::numeric_limits<std::int64_t>::max());
    const auto append = [&](int digit) {
        units = units * 10 + digit;
        return units <= limit;
    };
    bool fits = true;
    for (const char c : literal.digits) fits = fits && append(c - '0');
    for (int i = literal.after_point; i < decimals_kept && fits; ++i) fits = append(0);
    if (!fits) {
        return fail("decimal.out-of-range", fmt::format("\"{}\" is too large.", text), {},
                    {{"text", std::string(text)}});
    }
    return Decimal(static_cast<std::int64_t>(literal.negative ? -units : units));
}

std::string Decimal::to_text() const {
    const bool negative = units_ < 0;
    const auto magnitude = negative ? -static_cast<WideInteger>(units_) : static_cast<WideInteger>(units_);
    std::string text =
        fmt::format("{}{}.{:09}", negative ? "-" : "", static_cast<std::uint64_t>(magnitude / units_per_one),
                    static_cast<std::uint64_t>(magnitude % units_per_one));
    text.erase(text.find_last_not_of('0') + 1);
    if (text.ends_with('.')) text.pop_back();
    return text;
}

}  // namespace tedge
