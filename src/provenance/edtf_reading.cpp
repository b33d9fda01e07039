#include "edtf_reading.hpp"

#include <fmt/format.h>

#include <optional>

#include "tedge/base/number_text.hpp"

namespace tedge::provenance::reading {

namespace {

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

std::unexpected<Error> refuse(std::string code, std::string_view text, std::string_view what, std::string next) {
    return fail(std::move(code), fmt::format("\"{}\" {}", text, what), std::move(next), {{"text", std::string(text)}});
}

// 23:20:30, 24:00:00, 16:54:59.042
bool take_time_of_day(Cursor& cursor) {
    const auto hours = cursor.take_digits(2);
    if (hours.empty() || !cursor.take(':')) return false;
    const auto minutes = cursor.take_digits(2);
    if (minutes.empty() || !cursor.take(':')) return false;
    const auto seconds = cursor.take_digits(2);
    if (seconds.empty()) return false;
    const bool has_fraction = cursor.take('.');
    const auto fraction = has_fraction ? cursor.take_all_digits() : std::string_view();
    if (has_fraction && fraction.empty()) return false;
    if (number_of(hours) == 24) {
        return minutes == "00" && seconds == "00" && fraction.find_first_not_of('0') == std::string_view::npos;
    }
    return number_of(hours) < 24 && number_of(minutes) < 60 && number_of(seconds) < 60;
}

// Z, +04, -04:30, or nothing. Shifts in use run from -12:00 to +14:00; minus nought is none (ISO 8601-1).
bool take_shift(Cursor& cursor) {
    if (cursor.at_end() || cursor.take('Z')) return true;
    const char sign = cursor.take_one_of("+-");
    const auto hours = cursor.take_digits(2);
    if (sign == '\0' || hours.empty()) return false;
    std::string_view minutes = "00";
    if (cursor.take(':')) minutes = cursor.take_digits(2);
    if (minutes.empty() || number_of(minutes) > 59) return false;
    const int shift = number_of(hours) * 60 + number_of(minutes);
    return sign == '+' ? shift <= 14 * 60 : shift > 0 && shift <= 12 * 60;
}

// A positive whole number without leading zeros: what stands after E and S.
std::optional<int> take_count(Cursor& cursor) {
    const auto digits = cursor.take_all_digits();
    if (digits.empty() || digits.front() == '0' || digits.size() > 9) return std::nullopt;
    return number_of(digits);
}

std::optional<std::int64_t> scaled(std::string_view digits, int exponent) {
    const auto mantissa = parse_integer(digits);
    if (!mantissa || *mantissa > farthest_year) return std::nullopt;
    std::int64_t year = *mantissa;
    for (int i = 0; i < exponent && year != 0; ++i) {
        year *= 10;
        if (year > farthest_year) return std::nullopt;
    }
    return year;
}

// All years that agree with this one in its first `significant` digits.
Date years_around(std::int64_t magnitude, bool negative, int significant) {
    std::int64_t step = 1;
    for (std::size_t i = fmt::to_string(magnitude).size(); i > static_cast<std::size_t>(significant); --i) step *= 10;
    const std::int64_t low = magnitude / step * step;
    const std::int64_t high = low + step - 1;
    Date date;
    date.lower = day_number({negative ? -high : low, 1, 1});
    date.upper = day_number({negative ? -low : high, 12, 31});
    return date;
}

constexpr int all_digits = 99;

}  // namespace

bool Cursor::take(char wanted) {
    if (rest_.empty() || rest_.front() != wanted) return false;
    rest_.remove_prefix(1);
    return true;
}

std::string_view Cursor::take_digits(std::size_t count, bool or_x) {
    const auto wanted = rest_.substr(0, count);
    const bool all = std::ranges::all_of(wanted, [&](char c) { return is_digit(c) || (or_x && c == 'X'); });
    if (wanted.size() != count || !all) return {};
    rest_.remove_prefix(count);
    return wanted;
}

std::string_view Cursor::take_all_digits() {
    const auto end = std::ranges::find_if_not(rest_, is_digit);
    return take_digits(static_cast<std::size_t>(end - rest_.begin()));
}

char Cursor::take_one_of(std::string_view wanted) {
    if (rest_.empty() || !wanted.contains(rest_.front())) return '\0';
    const char taken = rest_.front();
    rest_.remove_prefix(1);
    return taken;
}

int number_of(std::string_view digits) {
    int value = 0;
    for (const char c : digits) value = value * 10 + (c - '0');
    return value;
}

std::unexpected<Error> not_edtf(std::string_view text) {
    return refuse("edtf.not-edtf", text, "is not a date in EDTF.",
                  "Write for example 1907, 1907-05, 1907-05-12, 1907~ (about), 1907? (uncertain), 190X or 1907/1912.");
}

std::unexpected<Error> no_such_day(std::string_view text) {
    return refuse("edtf.no-such-day", text, "names a day or month that no calendar has.", "Check month and day.");
}

std::unexpected<Error> beyond_reach(std::string_view text) {
    return refuse("edtf.beyond-reach", text, "names a year too far away to be counted.", "Check the year.");
}

Expected<Date> read_date_with_time(std::string_view text) {
    const std::string_view day = text.substr(0, text.find('T'));
    Cursor cursor(text.substr(day.size() + 1));
    const std::size_t length = day.starts_with('-') ? 11 : 10;  // a whole day, nothing qualified
    if (day.size() != length || !take_time_of_day(cursor) || !take_shift(cursor) || !cursor.at_end()) {
        return not_edtf(text);
    }
    auto date = read_calendar_date(day);
    if (date && (date->unspecified || date->uncertain || date->approximate)) return not_edtf(text);
    return date;
}

Expected<Date> read_long_year(std::string_view text) {
    Cursor cursor(text);
    cursor.take('Y');
    const bool negative = cursor.take('-');
    const auto digits = cursor.take_all_digits();
    const bool has_exponent = cursor.take('E');
    const auto exponent = has_exponent ? take_count(cursor) : std::optional(0);
    const bool has_significant = cursor.take('S');
    const auto significant = has_significant ? take_count(cursor) : std::optional(all_digits);
    const bool long_enough = has_exponent || digits.size() > 4;
    if (!cursor.at_end() || !exponent || !significant || digits.starts_with('0') || digits.empty() || !long_enough) {
        return not_edtf(text);
    }
    const auto magnitude = scaled(digits, *exponent);
    if (!magnitude) return beyond_reach(text);
    Date date = years_around(*magnitude, negative, *significant);
    date.level = has_exponent || has_significant ? 2 : 1;
    return date;
}

Expected<Date> read_year_with_significant_digits(std::string_view text) {
    Cursor cursor(text);
    const bool negative = cursor.take('-');
    const auto digits = cursor.take_digits(4);
    if (digits.empty() || !cursor.take('S')) return not_edtf(text);
    const auto significant = take_count(cursor);
    const int year = number_of(digits);
    if (!significant || !cursor.at_end() || (negative && year == 0)) return not_edtf(text);
    Date date = years_around(year, negative, *significant);
    date.level = 2;
    return date;
}

}  // namespace tedge::provenance::reading
