#include "tedge/provenance/civil_day.hpp"

#include <fmt/format.h>

#include <array>

namespace tedge::provenance {

namespace {

constexpr std::int64_t days_per_era = 146'097;       // 400 years
constexpr std::int64_t days_before_epoch = 719'468;  // 0000-03-01 to 1970-01-01

std::int64_t floor_divided(std::int64_t value, std::int64_t by) {
    return value >= 0 ? value / by : -((by - 1 - value) / by);
}

}  // namespace

bool is_leap_year(std::int64_t year) {
    return year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
}

int last_day_of_month(std::int64_t year, int month) {
    static constexpr std::array days{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    return month == 2 && is_leap_year(year) ? 29 : days.at(static_cast<std::size_t>(month - 1));
}

DayNumber day_number(const CivilDay& day) {
    const std::int64_t year = day.month <= 2 ? day.year - 1 : day.year;
    const std::int64_t era = floor_divided(year, 400);
    const std::int64_t year_of_era = year - era * 400;
    const std::int64_t month_from_march = (day.month + 9) % 12;
    const std::int64_t day_of_year = (153 * month_from_march + 2) / 5 + day.day - 1;
    const std::int64_t day_of_era = year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + day_of_year;
    return era * days_per_era + day_of_era - days_before_epoch;
}

CivilDay civil_day(DayNumber number) {
    const std::int64_t shifted = number + days_before_epoch;
    const std::int64_t era = floor_divided(shifted, days_per_era);
    const std::int64_t day_of_era = shifted - era * days_per_era;
    const std::int64_t year_of_era =
        (day_of_era - day_of_era / 1460 + day_of_era / 36'524 - day_of_era / 146'096) / 365;
    const std::int64_t day_of_year = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    const std::int64_t month_from_march = (5 * day_of_year + 2) / 153;
    CivilDay day;
    day.day = static_cast<int>(day_of_year - (153 * month_from_march + 2) / 5 + 1);
    day.month = static_cast<int>(month_from_march < 10 ? month_from_march + 3 : month_from_march - 9);
    day.year = year_of_era + era * 400 + (day.month <= 2 ? 1 : 0);
    return day;
}

std::string to_iso_text(DayNumber number) {
    const CivilDay day = civil_day(number);
    const bool negative = day.year < 0;
    return fmt::format("{}{:04}-{:02}-{:02}", negative ? "-" : "", negative ? -day.year : day.year, day.month, day.day);
}

}  // namespace tedge::provenance
