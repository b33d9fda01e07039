#include "tedge/base/clock.hpp"

#include <fmt/format.h>

#include <charconv>

namespace tedge {

namespace {

// `count` digits at `at`, or -1.
int digits(std::string_view text, std::size_t at, std::size_t count) {
    if (at + count > text.size()) return -1;
    int value = 0;
    for (std::size_t i = at; i < at + count; ++i) {
        if (text[i] < '0' || text[i] > '9') return -1;
        value = value * 10 + (text[i] - '0');
    }
    return value;
}

struct TimeOfDay {
    int hour = 0, minute = 0, second = 0, millisecond = 0;
};

// "14:05:00" or "14:05:00.123" (one to three decimals).
Expected<TimeOfDay> parse_time_of_day(std::string_view text) {
    const TimeOfDay time{digits(text, 0, 2), digits(text, 3, 2), digits(text, 6, 2), 0};
    const bool well_formed = text.size() >= 8 && text[2] == ':' && text[5] == ':' && time.hour >= 0 && time.hour < 24 &&
                             time.minute >= 0 && time.minute < 60 && time.second >= 0 && time.second < 60;
    if (!well_formed) return fail("time.not-an-instant", "This is not a time of day.");
    if (text.size() == 8) return time;
    const std::size_t decimals = text.size() - 9;
    int fraction = text[8] == '.' && decimals >= 1 && decimals <= 3 ? digits(text, 9, decimals) : -1;
    if (fraction < 0) return fail("time.not-an-instant", "This is not a time of day.");
    for (std::size_t i = decimals; i < 3; ++i) fraction *= 10;
    return TimeOfDay{time.hour, time.minute, time.second, fraction};
}

}  // namespace

Instant SystemClock::now() {
    return std::chrono::time_point_cast<std::chrono::milliseconds>(std::chrono::system_clock::now());
}

std::string to_text(Instant instant) {
    const auto day = std::chrono::floor<std::chrono::days>(instant);
    const std::chrono::hh_mm_ss<std::chrono::milliseconds> time(instant - day);
    return fmt::format("{}T{:02}:{:02}:{:02}.{:03}Z", to_text(std::chrono::year_month_day(day)), time.hours().count(),
                       time.minutes().count(), time.seconds().count(), time.subseconds().count());
}

Expected<Instant> parse_instant(std::string_view text) {
    const auto refuse = [&] {
        return fail("time.not-an-instant", fmt::format("\"{}\" is not a time in UTC.", text),
                    "Write it as 2026-03-03T14:05:00Z.", {{"text", std::string(text)}});
    };
    if (text.size() < 20 || text[10] != 'T' || text.back() != 'Z') return refuse();
    const auto date = parse_date(text.substr(0, 10));
    const auto time = parse_time_of_day(text.substr(11, text.size() - 12));
    if (!date || !time) return refuse();
    return Instant(std::chrono::sys_days(*date)) + std::chrono::hours(time->hour) + std::chrono::minutes(time->minute) +
           std::chrono::seconds(time->second) + std::chrono::milliseconds(time->millisecond);
}

Expected<std::chrono::year_month_day> parse_date(std::string_view text) {
    const int year = digits(text, 0, 4);
    const int month = digits(text, 5, 2);
    const int day = digits(text, 8, 2);
    const std::chrono::year_month_day date{std::chrono::year(year), std::chrono::month(static_cast<unsigned>(month)),
                                           std::chrono::day(static_cast<unsigned>(day))};
    if (text.size() != 10 || text[4] != '-' || text[7] != '-' || year < 0 || month < 0 || day < 0 || !date.ok()) {
        return fail("time.not-a-date", fmt::format("\"{}\" is not a day of the calendar.", text),
                    "Write it as 2026-03-31.", {{"text", std::string(text)}});
    }
    return date;
}

std::string to_text(std::chrono::year_month_day date) {
    return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(date.year()), static_cast<unsigned>(date.month()),
                       static_cast<unsigned>(date.day()));
}

}  // namespace tedge
