// Held against the C library's own reading of the same database (localtime_r of glibc), and against the days on which
// the clocks change in the European Union: Directive 2000/84/EC, articles 2 and 3 (last Sundays of March and
// October, 1.00 a.m. Greenwich Mean Time).
#include "tedge/base/time_zone.hpp"

#include <array>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <ctime>

#include "must.hpp"

using namespace tedge;

namespace {

// The C library's answer for the zone.
std::string by_localtime(Instant instant, const std::string& zone) {
    ::setenv("TZ", zone.c_str(), 1);
    ::tzset();
    const std::time_t seconds = std::chrono::duration_cast<std::chrono::seconds>(instant.time_since_epoch()).count();
    std::tm there{};
    ::localtime_r(&seconds, &there);
    std::array<char, 64> text{};
    static_cast<void>(std::strftime(text.data(), text.size(), "%Y-%m-%d, %H:%M ", &there));
    const std::string told = std::string(text.data()) + zone + " (" + there.tm_zone + ")";
    ::unsetenv("TZ");
    ::tzset();
    return told;
}

}  // namespace

TEST_CASE("the clock of a place is the one that the C library reads from the same database") {
    const auto begin = must(parse_instant("2001-01-01T00:17:00Z"));
    int compared = 0;
    for (const char* zone : {"Europe/London", "Europe/Paris", "America/New_York", "Asia/Kolkata", "Australia/Lord_Howe",
                             "Pacific/Apia", "Asia/Tehran", "America/St_Johns"}) {
        for (Instant at = begin; at < begin + std::chrono::hours(24 * 365 * 30); at += std::chrono::hours(613)) {
            REQUIRE(must(wall_text(at, zone)) == by_localtime(at, zone));
            ++compared;
        }
    }
    CHECK(compared > 3000);
}

TEST_CASE("summer time begins and ends as the directive says") {
    const auto ahead = [](const char* at) {
        return must(wall_time(must(parse_instant(at)), "Europe/Berlin")).ahead_of_utc.count();
    };
    CHECK(ahead("2026-03-29T00:59:59Z") == 3600);
    CHECK(ahead("2026-03-29T01:00:00Z") == 7200);
    CHECK(ahead("2026-10-25T00:59:59Z") == 7200);
    CHECK(ahead("2026-10-25T01:00:00Z") == 3600);
}

TEST_CASE("an evening sale far west lies on the day before that of Greenwich") {
    const auto there = must(wall_time(must(parse_instant("2026-03-06T02:30:00Z")), "America/Los_Angeles"));
    CHECK(to_text(there.day) == "2026-03-05");
    CHECK(there.since_midnight == std::chrono::hours(18) + std::chrono::minutes(30));
}

TEST_CASE("what is no zone is refused by its name") {
    for (const char* name : {"", "Europe/Nowhere", "../../etc/passwd", "/etc/passwd", "Europe/London\n", "Europe"}) {
        const auto answer = wall_time(Instant{}, name);
        REQUIRE_FALSE(answer);
        CHECK(answer.error().code == "time.unknown-zone");
    }
}
