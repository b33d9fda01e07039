// The clock on the wall of a place: zones of the IANA time zone database as this machine has it installed (Debian:
// tzdata). The machine's own zone is never asked.
#pragma once

#include <string>
#include <string_view>

#include "tedge/base/clock.hpp"

namespace tedge {

struct WallTime {
    std::chrono::year_month_day day;
    std::chrono::milliseconds since_midnight;
    std::chrono::seconds ahead_of_utc;  // less than nothing west of Greenwich
    std::string abbreviation;           // "GMT", "BST"; "+03" where the zone has no letters
};

// `zone` as "Europe/London". Errors: time.unknown-zone (values.zone), time.no-zones (no database is installed).
[[nodiscard]] Expected<WallTime> wall_time(Instant instant, std::string_view zone);

// "2026-07-05, 14:30 Europe/London (BST)": day, hour and minute of the place, with its zone.
[[nodiscard]] Expected<std::string> wall_text(Instant instant, std::string_view zone);

}  // namespace tedge
