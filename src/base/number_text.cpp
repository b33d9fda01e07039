#include "tedge/base/number_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>

namespace tedge {

namespace {

template <class T>
Expected<T> parse_whole(std::string_view text) {
    T value{};
    const auto [end, problem] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (problem == std::errc::result_out_of_range) {
        return fail("number.out-of-range", fmt::format("\"{}\" is too large or too small a number.", text), {},
                    {{"text", std::string(text)}});
    }
    if (problem != std::errc() || end != text.data() + text.size()) {
        return fail("number.not-a-number", fmt::format("\"{}\" is not a number.", text),
                    "Write digits with a point before decimals.", {{"text", std::string(text)}});
    }
    return value;
}

bool is_all_zeros(std::string_view text) {
    return std::ranges::all_of(text, [](char c) { return c == '-' || c == '0' || c == '.'; });
}

}  // namespace

Expected<double> parse_number(std::string_view text) {
    auto value = parse_whole<double>(text);
    if (value && !std::isfinite(*value)) {
        return fail("number.not-a-number", fmt::format("\"{}\" is not a number.", text),
                    "Write digits with a point before decimals.", {{"text", std::string(text)}});
    }
    return value;
}

Expected<std::int64_t> parse_integer(std::string_view text) {
    return parse_whole<std::int64_t>(text);
}

std::string format_number(double value) {
    if (value == 0.0) return "0";  // never "-0"
    return fmt::format("{}", value);
}

std::string format_fixed(double value, int decimals) {
    // The shortest decimal that reads back as the same double is what a person sees as "the number"; 1.005 is to become
    // 1.01 although the double lies a little below. A nudge of half an ulp-sized relative step does that.
    const double nudged = std::nextafter(value, value < 0 ? -HUGE_VAL : HUGE_VAL);
    std::string text = fmt::format("{:.{}f}", nudged, decimals);
    if (text.starts_with('-') && is_all_zeros(text)) text.erase(0, 1);
    return text;
}

}  // namespace tedge
