#include "tedge/usecases/calendar_file.hpp"

#include <catch2/catch.hpp>
#include <random>

#include "must.hpp"
#include "strict_calendar.hpp"

using namespace tedge;
using test::said_text;
using test::StrictCalendarReader;
using usecases::calendar_text;
using usecases::CalendarEntry;

namespace {

CalendarEntry pay_on(const char* day, const std::string& summary, const std::string& description = {}) {
    return {.uid = "0190a1b2-0000-7000-8000-000000000001",
            .summary = summary,
            .description = description,
            .day = must(parse_date(day)),
            .last_written = must(parse_instant("2026-03-05T16:02:03.456Z"))};
}

std::string fault_of(const std::string& bytes) {
    try {
        StrictCalendarReader::read(bytes);
    } catch (const std::runtime_error& fault) {
        return fault.what();
    }
    return {};
}

}  // namespace

TEST_CASE("a day and a moment are written as the standard has them", "[calendar]") {
    CalendarEntry sale = pay_on("2026-03-05", "Sale");
    sale.uid = "other";
    sale.at = must(parse_instant("2026-03-05T14:30:00Z"));
    const auto read = StrictCalendarReader::read(calendar_text({pay_on("2026-03-12", "Pay for lot 12"), sale}));
    REQUIRE(read.parts.size() == 2);
    CHECK(read.parts[0].only("DTSTART").value == "20260312");
    CHECK(read.parts[0].only("DTSTART").parameters.at("VALUE") == "DATE");
    CHECK(read.parts[0].only("DTSTAMP").value == "20260305T160203Z");
    CHECK(read.parts[0].parts.empty());
    CHECK(read.parts[1].only("DTSTART").value == "20260305T143000Z");
}

TEST_CASE("the text of the standard's own example is escaped as it prints it", "[calendar]") {
    // RFC 5545, 3.3.11 (from memory): "Project XYZ Final Review\nConference Room - 3B\nCome Prepared."
    const auto text =
        calendar_text({pay_on("2026-03-12", "x", "Project XYZ Final Review\r\nConference Room - 3B\nCome Prepared.")});
    CHECK(text.find("DESCRIPTION:Project XYZ Final Review\\nConference Room - 3B\\nCome P") != std::string::npos);
    const auto read = StrictCalendarReader::read(text);
    CHECK(said_text(read.parts[0].only("DESCRIPTION").value) ==
          "Project XYZ Final Review\nConference Room - 3B\nCome Prepared.");
}

TEST_CASE("whatever a text holds comes out again, and every line keeps to 75 octets", "[calendar]") {
    std::mt19937 random(7);  // NOLINT: the same texts each time
    const std::vector<std::string> pieces{"a",  "é",  "–", "🖼", ",",     ";", "\\",
                                          "\n", "\t", ":", "\"", "word ", "ß", "日本"};
    for (int round = 0; round < 200; ++round) {
        std::string text;
        const auto length = random() % 120;
        for (unsigned i = 0; i < length; ++i) text += pieces[random() % pieces.size()];
        const auto read =
            StrictCalendarReader::read(calendar_text({pay_on("2026-03-12", text, text + "end")}, {.remind_days = 2}));
        REQUIRE(said_text(read.parts[0].only("SUMMARY").value) == text);
        REQUIRE(said_text(read.parts[0].only("DESCRIPTION").value) == text + "end");
        REQUIRE(read.parts[0].parts.at(0).only("TRIGGER").value == "-P2D");
    }
}

TEST_CASE("control characters and broken bytes do not reach a calendar", "[calendar]") {
    const auto read = StrictCalendarReader::read(calendar_text({pay_on("2026-03-12",
                                                                       "a\x01"
                                                                       "b\xFF"
                                                                       "c\rEND:VCALENDAR")}));
    CHECK(said_text(read.parts[0].only("SUMMARY").value) == "a?b?c\nEND:VCALENDAR");
}

TEST_CASE("the strict reader finds what is against the rules", "[calendar]") {
    const std::string good = calendar_text({pay_on("2026-03-12", "Pay, soon")}, {.remind_days = 0});
    CHECK(fault_of(good).empty());
    const auto with = [&](const std::string& from, const std::string& to) {
        std::string changed = good;
        const auto at = changed.find(from);
        REQUIRE(at != std::string::npos);
        return fault_of(changed.replace(at, from.size(), to));
    };
    CHECK_FALSE(with("\r\n", "\n").empty());
    CHECK_FALSE(with("Pay\\, soon", "Pay, soon").empty());
    CHECK_FALSE(with("Pay\\, soon", std::string(90, 'x')).empty());
    CHECK_FALSE(with("Pay\\, soon", "Pay\\x").empty());
    CHECK_FALSE(with("UID:", "X-NO:").empty());
    CHECK_FALSE(with("DTSTAMP:20260305T160203Z", "DTSTAMP:20260305T160203").empty());
    CHECK_FALSE(with("20260312", "20261312").empty());
    CHECK_FALSE(with(";VALUE=DATE", "").empty());
    CHECK_FALSE(with("END:VALARM\r\n", "").empty());
    CHECK_FALSE(with("TRIGGER:PT0S", "TRIGGER:0").empty());
    CHECK_FALSE(with("VERSION:2.0\r\n", "").empty());
}
