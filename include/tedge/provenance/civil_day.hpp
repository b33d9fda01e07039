// Days counted as integers in the proleptic Gregorian calendar, for any year a provenance can name.
//
// std::chrono stops at year 32767; EDTF names years far beyond it. Day 0 is 1970-01-01; year 0 exists and is a leap
// year (ISO 8601: astronomical year numbering, -0001 is 2 BCE).
#pragma once

#include <cstdint>
#include <limits>
#include <string>

namespace tedge::provenance {

using DayNumber = std::int64_t;

// Used in comparisons where nothing bounds a date; no real day has these numbers.
inline constexpr DayNumber before_all_days = std::numeric_limits<DayNumber>::min();
inline constexpr DayNumber after_all_days = std::numeric_limits<DayNumber>::max();

// Years beyond this are refused: days are held in 64 bits.
inline constexpr std::int64_t farthest_year = 1'000'000'000'000'000;

struct CivilDay {
    std::int64_t year = 0;
    int month = 1;  // 1 to 12
    int day = 1;    // 1 to 31

    friend bool operator==(const CivilDay&, const CivilDay&) = default;
};

[[nodiscard]] bool is_leap_year(std::int64_t year);
[[nodiscard]] int last_day_of_month(std::int64_t year, int month);

// Both directions by counting 400-year eras that begin on 1 March, so that the leap day comes last in its year
// (H. Hinnant, "chrono-Compatible Low-Level Date Algorithms", 2013).
[[nodiscard]] DayNumber day_number(const CivilDay& day);
[[nodiscard]] CivilDay civil_day(DayNumber number);

// "1907-05-12"; years before 0 as "-0044-03-15", beyond four digits as they are: "171010000-01-01".
[[nodiscard]] std::string to_iso_text(DayNumber number);

}  // namespace tedge::provenance
