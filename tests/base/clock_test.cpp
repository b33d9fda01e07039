#include "tedge/base/clock.hpp"

#include <catch2/catch.hpp>

using namespace tedge;

TEST_CASE("An instant is written in UTC with milliseconds and read back") {
    // 1234567890 s after the epoch is 2009-02-13 23:31:30 UTC (POSIX.1, section 4.16, seconds since the epoch).
    const Instant instant{std::chrono::milliseconds(1234567890123)};
    CHECK(to_text(instant) == "2009-02-13T23:31:30.123Z");
    CHECK(parse_instant("2009-02-13T23:31:30.123Z") == instant);
    CHECK(parse_instant("2009-02-13T23:31:30Z").value() == instant - std::chrono::milliseconds(123));
}

TEST_CASE("What is no instant is refused with a sentence") {
    for (const char* text : {"", "2009-02-13", "2009-02-13 23:31:30Z", "2009-02-13T23:31:30", "2009-02-13T24:00:00Z",
                             "2009-02-30T00:00:00Z", "2009-02-13T23:31:30.Z", "2009-02-13T23:31:30.1234Z"}) {
        CAPTURE(text);
        const auto read = parse_instant(text);
        REQUIRE_FALSE(read.has_value());
        CHECK(read.error().code == "time.not-an-instant");
        CHECK_FALSE(read.error().next.empty());
    }
}

TEST_CASE("Days follow the Gregorian calendar") {
    // Leap years: ISO 8601-1:2019, 4.2.1.
    CHECK(parse_date("2000-02-29").has_value());
    CHECK_FALSE(parse_date("1900-02-29").has_value());
    CHECK_FALSE(parse_date("2026-13-01").has_value());
    CHECK_FALSE(parse_date("26-01-01").has_value());
    CHECK(to_text(*parse_date("0042-01-09")) == "0042-01-09");
}
