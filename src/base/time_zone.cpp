#include "tedge/base/time_zone.hpp"

#include <date/tz.h>
#include <fmt/format.h>

#include <algorithm>

namespace tedge {

namespace {

std::unexpected<Error> unknown_zone(std::string_view zone) {
    return fail("time.unknown-zone", fmt::format("There is no time zone \"{}\".", zone),
                "Write it as Europe/London, a continent and a town.", {{"zone", std::string(zone)}});
}

// A name becomes a path in the database: nothing that could lead out of it.
bool could_be_zone(std::string_view zone) {
    const auto fits = [](char c) {
        return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '/' || c == '_' ||
               c == '-' || c == '+';
    };
    return !zone.empty() && zone.size() < 64 && zone.front() != '/' && std::ranges::all_of(zone, fits);
}

// The library says what it does not find by throwing.
Expected<const date::time_zone*> zone_named(std::string_view zone) {
    if (!could_be_zone(zone)) return unknown_zone(zone);
    try {
        static_cast<void>(date::get_tzdb());
    } catch (const std::exception&) {
        return fail("time.no-zones", "The database of time zones is not installed.",
                    "Install it (on Debian: the package tzdata).");
    }
    try {
        return date::locate_zone(std::string(zone));
    } catch (const std::exception&) {
        return unknown_zone(zone);
    }
}

}  // namespace

Expected<WallTime> wall_time(Instant instant, std::string_view zone) {
    const auto place = zone_named(zone);
    if (!place) return pass_on(place);
    const auto info = (*place)->get_info(std::chrono::floor<std::chrono::seconds>(instant));
    const Instant there = instant + info.offset;
    const auto day = std::chrono::floor<std::chrono::days>(there);
    return WallTime{std::chrono::year_month_day(day), there - day, info.offset, info.abbrev};
}

Expected<std::string> wall_text(Instant instant, std::string_view zone) {
    const auto there = wall_time(instant, zone);
    if (!there) return pass_on(there);
    const std::chrono::hh_mm_ss time(there->since_midnight);
    return fmt::format("{}, {:02}:{:02} {} ({})", to_text(there->day), time.hours().count(), time.minutes().count(),
                       zone, there->abbreviation);
}

}  // namespace tedge
