#include "tedge/provenance/civil_day.hpp"

#include <catch2/catch.hpp>
#include <chrono>

using namespace tedge::provenance;

TEST_CASE("Day numbers agree with the standard library's calendar") {
    // std::chrono::sys_days (ISO C++20) over its own range, every 17th day of some 1,600 years.
    using namespace std::chrono;
    for (sys_days day = sys_days(year(700) / 1 / 1); day < sys_days(year(2300) / 1 / 1); day += days(17)) {
        const year_month_day date(day);
        const CivilDay civil{int(date.year()), static_cast<int>(unsigned(date.month())),
                             static_cast<int>(unsigned(date.day()))};
        REQUIRE(day_number(civil) == day.time_since_epoch().count());
        REQUIRE(civil_day(day.time_since_epoch().count()) == civil);
    }
}

TEST_CASE("Years before nought and far beyond four digits go there and back") {
    for (const std::int64_t year : {-farthest_year, std::int64_t{-170'000'002}, std::int64_t{-400}, std::int64_t{-1},
                                    std::int64_t{0}, std::int64_t{9999}, std::int64_t{171'010'000}, farthest_year}) {
        for (const CivilDay& day :
             {CivilDay{year, 1, 1}, CivilDay{year, 2, 28}, CivilDay{year, 3, 1}, CivilDay{year, 12, 31}}) {
            REQUIRE(civil_day(day_number(day)) == day);
        }
        REQUIRE(day_number({year, 3, 1}) - day_number({year, 2, 28}) == (is_leap_year(year) ? 2 : 1));
    }
}

TEST_CASE("Days print as ISO 8601, longer years as they are") {
    CHECK(to_iso_text(day_number({1907, 5, 12})) == "1907-05-12");
    CHECK(to_iso_text(day_number({-44, 3, 15})) == "-0044-03-15");
    CHECK(to_iso_text(day_number({0, 2, 29})) == "0000-02-29");
    CHECK(to_iso_text(day_number({-170'000'002, 1, 1})) == "-170000002-01-01");
}
