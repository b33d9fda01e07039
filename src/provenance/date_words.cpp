#include "tedge/provenance/date_words.hpp"

#include <fmt/format.h>

#include <array>
#include <string_view>

#include "tedge/base/clock.hpp"

namespace tedge::provenance {

namespace {

enum class Precision { day, month, year };

constexpr std::array<std::string_view, 12> month_names{"January",   "February", "March",    "April",
                                                       "May",       "June",     "July",     "August",
                                                       "September", "October",  "November", "December"};

std::string year_words(std::int64_t year) {
    return year > 0 ? fmt::to_string(year) : fmt::format("{} BC", 1 - year);
}

std::string day_words(DayNumber number, Precision precision) {
    const CivilDay day = civil_day(number);
    std::string year = year_words(day.year);
    if (precision == Precision::year) return year;
    const auto month = month_names.at(static_cast<std::size_t>(day.month - 1));
    if (precision == Precision::month) return fmt::format("{} {}", month, year);
    return fmt::format("{} {} {}", day.day, month, year);
}

Precision precision_of_start(DayNumber lower) {
    const CivilDay day = civil_day(lower);
    return day.day != 1 ? Precision::day : day.month != 1 ? Precision::month : Precision::year;
}

Precision precision_of_end(DayNumber upper) {
    const CivilDay day = civil_day(upper);
    if (day.day != last_day_of_month(day.year, day.month)) return Precision::day;
    return day.month != 12 ? Precision::month : Precision::year;
}

// Whole years or whole months where the bounds fall on them, else days: both ends alike.
Precision precision_of(DayNumber lower, DayNumber upper) {
    return std::min(precision_of_start(lower), precision_of_end(upper));
}

std::string between_words(DayNumber lower, DayNumber upper, bool approximate) {
    const Precision precision = precision_of(lower, upper);
    const std::string first = day_words(lower, precision);
    const std::string last = day_words(upper, precision);
    const std::string about = approximate ? "about " : "";
    if (first == last) return about + first;
    return fmt::format("between {}{} and {}", about, first, last);
}

bool is_plain(const Edtf& date) {
    return date.lower && date.upper && !date.approximate && !date.uncertain && !words_for(date).starts_with("between");
}

std::string start_words(const Edtf& from) {
    if (!from.lower && !from.upper) return "";
    if (!from.lower || !from.upper) return words_for(from);
    const std::string words = words_for(from);
    return words.starts_with("between") ? "from some time " + words : "from " + words;
}

std::string end_words(const Edtf& to) {
    if (!to.lower && !to.upper) return "";
    const std::string words = words_for(to);
    if (!to.lower) return fmt::format("until {} at the latest", words.substr(std::string_view("by ").size()));
    if (!to.upper) return fmt::format("until {} at least", words.substr(std::string_view("in or after ").size()));
    return words.starts_with("between") ? "until some time " + words : "until " + words;
}

}  // namespace

std::string words_for(const Edtf& date) {
    std::string words;
    if (date.lower && date.upper) {
        words = between_words(*date.lower, *date.upper, date.approximate);
    } else if (date.upper) {
        words = fmt::format("by {}{}", date.approximate ? "about " : "",
                            day_words(*date.upper, precision_of_end(*date.upper)));
    } else if (date.lower) {
        words = fmt::format("in or after {}{}", date.approximate ? "about " : "",
                            day_words(*date.lower, precision_of_start(*date.lower)));
    } else {
        words = "an unknown date";
    }
    return date.uncertain ? words + " (?)" : words;
}

std::string words_for_day(std::string_view iso_day) {
    const auto date = parse_date(iso_day);
    if (!date) return std::string(iso_day);
    return fmt::format("{} {} {}", static_cast<unsigned>(date->day()),
                       month_names.at(static_cast<unsigned>(date->month()) - 1), static_cast<int>(date->year()));
}

std::string held_words(const std::optional<Edtf>& from, const std::optional<Edtf>& to) {
    if (from && to && is_plain(*from) && is_plain(*to)) {
        const std::string first = words_for(*from);
        const std::string last = words_for(*to);
        return first == last ? first : fmt::format("{}–{}", first, last);
    }
    const std::string start = from ? start_words(*from) : "";
    const std::string end = to ? end_words(*to) : "";
    return start + (start.empty() || end.empty() ? "" : " ") + end;
}

std::string life_words(const std::optional<Edtf>& born, const std::optional<Edtf>& died) {
    if (born && died) return fmt::format("{}–{}", words_for(*born), words_for(*died));
    if (born) return "born " + words_for(*born);
    return died ? "died " + words_for(*died) : "";
}

}  // namespace tedge::provenance
