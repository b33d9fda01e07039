#include "tedge/base/length.hpp"

#include <fmt/format.h>

#include <cmath>
#include <optional>

#include "tedge/base/number_text.hpp"
#include "tedge/base/text.hpp"

namespace tedge {

namespace {

std::unexpected<Error> not_a_length(std::string_view text) {
    return fail("length.not-a-length", fmt::format("\"{}\" is not a length.", text),
                "Write it as 812 mm, 81.2 cm or 32 1/4 in.", {{"text", std::string(text)}});
}

std::optional<double> mm_per_unit(std::string_view unit) {
    if (unit.empty() || unit == "mm") return 1.0;
    if (unit == "cm") return 10.0;
    if (unit == "m") return 1000.0;
    if (unit == "in" || unit == "\"" || unit == "″") return mm_per_inch;
    if (unit == "ft" || unit == "'" || unit == "′") return 12.0 * mm_per_inch;
    return std::nullopt;
}

// Takes the longest leading run of number characters.
std::string_view take_number(std::string_view& text) {
    const std::size_t end = std::min(text.find_first_not_of("0123456789.+-/eE"), text.size());
    // "1e3 in" is a number; the "e" of a unit never follows a digit here, for no unit begins with it.
    const std::string_view number = text.substr(0, end);
    text = trimmed(text.substr(end));
    return number;
}

// "32" or "1/4".
std::optional<double> read_number(std::string_view text) {
    const std::size_t slash = text.find('/');
    if (slash == std::string_view::npos) {
        const auto value = parse_number(text);
        return value ? std::optional(*value) : std::nullopt;
    }
    const auto above = parse_integer(text.substr(0, slash));
    const auto below = parse_integer(text.substr(slash + 1));
    if (!above || !below || *below <= 0) return std::nullopt;
    return static_cast<double>(*above) / static_cast<double>(*below);
}

std::string_view take_unit(std::string_view& text) {
    const std::size_t end = std::min(text.find_first_of("0123456789.-+ \t"), text.size());
    const std::string_view unit = text.substr(0, end);
    text = trimmed(text.substr(end));
    return unit;
}

std::string inches(double length_mm) {
    const long eighths = std::lround(length_mm / mm_per_inch * 8.0);
    const long whole = eighths / 8;
    switch (const long rest = eighths % 8; rest) {
        case 0:
            return fmt::format("{}", whole);
        case 4:
            return fmt::format("{} 1/2", whole);
        case 2:
        case 6:
            return fmt::format("{} {}/4", whole, rest / 2);
        default:
            return fmt::format("{} {}/8", whole, rest);
    }
}

std::string at_most_one_decimal(double value) {
    std::string text = format_fixed(value, 1);
    if (text.ends_with(".0")) text.resize(text.size() - 2);
    return text;
}

}  // namespace

Expected<double> parse_length_mm(std::string_view text) {
    std::string_view rest = trimmed(text);
    if (rest.empty()) return not_a_length(text);
    double total_mm = 0.0;
    while (!rest.empty()) {
        auto value = read_number(take_number(rest));
        if (!value) return not_a_length(text);
        // "32 1/4 in": a whole number followed by a fraction of the same unit.
        if (const std::size_t slash = rest.find('/');
            slash != std::string_view::npos && rest.front() >= '0' && rest.front() <= '9') {
            const auto fraction = read_number(take_number(rest));
            if (!fraction) return not_a_length(text);
            *value += *fraction;
        }
        const auto unit = mm_per_unit(take_unit(rest));
        if (!unit) return not_a_length(text);
        total_mm += *value * *unit;
    }
    if (total_mm < 0.0) {
        return fail("length.negative", fmt::format("\"{}\" is below zero.", text), "A length is zero or more.");
    }
    // To a nanometre: 24 in are 609.6 mm, not what binary fractions make of 24 · 25.4.
    constexpr double per_mm = 1e6;
    return std::round(total_mm * per_mm) / per_mm;
}

std::string format_length_mm(double length_mm) {
    return at_most_one_decimal(length_mm) + " mm";
}

std::string format_size_height_first(double height_mm, double width_mm) {
    return fmt::format("{} × {} mm ({} × {} in)", at_most_one_decimal(height_mm), at_most_one_decimal(width_mm),
                       inches(height_mm), inches(width_mm));
}

}  // namespace tedge
