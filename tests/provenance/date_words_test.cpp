#include "tedge/provenance/date_words.hpp"

#include <catch2/catch.hpp>

using namespace tedge::provenance;

namespace {

std::string words(const char* text) {
    return words_for(parse_edtf(text).value());
}

std::string held(const char* from, const char* to) {
    const auto date = [](const char* text) { return *text == '\0' ? std::optional<Edtf>() : parse_edtf(text).value(); };
    return held_words(date(from), date(to));
}

}  // namespace

// Wording: common practice of printed provenances.
TEST_CASE("Dates read as a provenance prints them") {
    CHECK(words("1907") == "1907");
    CHECK(words("1907-05") == "May 1907");
    CHECK(words("1907-05-12") == "12 May 1907");
    CHECK(words("1907~") == "about 1907");
    CHECK(words("1907?") == "1907 (?)");
    CHECK(words("1907%") == "about 1907 (?)");
    CHECK(words("190X") == "between 1900 and 1909");
    CHECK(words("1907/1912") == "between 1907 and 1912");
    CHECK(words("1907-02/1912-05") == "between February 1907 and May 1912");
    CHECK(words("1907-02-03/1912") == "between 3 February 1907 and 31 December 1912");
    CHECK(words("/1650") == "by 1650");
    CHECK(words("../1650~") == "by about 1650");
    CHECK(words("1650/..") == "in or after 1650");
    CHECK(words("1907-24") == "between December 1907 and February 1908");
    CHECK(words("-0043") == "44 BC");
    CHECK(words("/") == "an unknown date");
}

TEST_CASE("The time something was held reads in one phrase") {
    CHECK(held("1907", "1912") == "1907–1912");
    CHECK(held("1907", "1907") == "1907");
    CHECK(held("1907", "") == "from 1907");
    CHECK(held("", "1912") == "until 1912");
    CHECK(held("", "") == "");
    CHECK(held("/1650", "1672") == "by 1650 until 1672");
    CHECK(held("1650~", "1672") == "from about 1650 until 1672");
    CHECK(held("190X", "/1912") == "from some time between 1900 and 1909 until 1912 at the latest");
    CHECK(held("1907", "1912/..") == "from 1907 until 1912 at least");
    CHECK(life_words(parse_edtf("1610").value(), parse_edtf("1672").value()) == "1610–1672");
    CHECK(life_words({}, parse_edtf("1672~").value()) == "died about 1672");
    CHECK(life_words(parse_edtf("1610").value(), {}) == "born 1610");
}

TEST_CASE("A day of the calendar reads as a letter dates it, and what is none stays as it is") {
    CHECK(words_for_day("2026-03-05") == "5 March 2026");
    CHECK(words_for_day("2024-02-29") == "29 February 2024");
    for (const char* none : {"2026-02-29", "2026-03", "1672~", "", "soon"}) CHECK(words_for_day(none) == none);
}
