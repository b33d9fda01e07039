// Dates for other people's calendars: iCalendar text (RFC 5545), UTF-8, lines ended by CRLF and folded at 75 octets.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tedge/base/clock.hpp"

namespace tedge::usecases {

struct CalendarEntry {
    std::string uid;  // stays with what it is of, so that a calendar replaces what it took in before
    std::string summary;
    std::string description{};
    std::chrono::year_month_day day{};  // a whole day, in no zone (VALUE=DATE)
    std::optional<Instant> at{};        // a moment instead, written in UTC, to the second
    Instant last_written{};             // DTSTAMP: without a METHOD it says when the entry was last written (3.8.7.2)
};

struct CalendarOptions {
    std::optional<int> remind_days{};  // a displayed alarm that many days before; 0: on the day
};

// Texts lose control characters but for line ends and tabs, which no TEXT value may hold (3.3.11). Entries of the same
// book give the same bytes, whenever they are written.
[[nodiscard]] std::string calendar_text(const std::vector<CalendarEntry>& entries, const CalendarOptions& options = {});

}  // namespace tedge::usecases
