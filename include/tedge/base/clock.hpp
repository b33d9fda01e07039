// Time comes from a Clock that is passed in, so that tests say what time it is.
#pragma once

#include <chrono>
#include <string>
#include <string_view>

#include "tedge/base/error.hpp"

namespace tedge {

// UTC, milliseconds.
using Instant = std::chrono::sys_time<std::chrono::milliseconds>;

class Clock {
public:
    virtual ~Clock() = default;
    [[nodiscard]] virtual Instant now() = 0;
};

class SystemClock final : public Clock {
public:
    [[nodiscard]] Instant now() override;
};

// "2026-03-03T14:05:00.123Z" always with milliseconds, always UTC (ISO 8601). Years 0000 to 9999.
[[nodiscard]] std::string to_text(Instant instant);
// The same form back, milliseconds optional. Errors: time.not-an-instant.
[[nodiscard]] Expected<Instant> parse_instant(std::string_view text);

// "2026-03-03" (ISO 8601 calendar date). Errors: time.not-a-date (also for 2026-02-30).
[[nodiscard]] Expected<std::chrono::year_month_day> parse_date(std::string_view text);
[[nodiscard]] std::string to_text(std::chrono::year_month_day date);

}  // namespace tedge
