#include "tedge/provenance/edtf.hpp"

#include <catch2/catch.hpp>
#include <fstream>
#include <iterator>
#include <random>
#include <string>

#include "in_locale.hpp"
#include "tedge/base/table.hpp"

using namespace tedge;
using namespace tedge::provenance;

namespace {

// Published readings of EDTF strings: the specification's own examples and the tests of four open-source readers, each
// row with its source. The column "ruling" says where this reader follows another one, or the specification itself.
Table published_vectors() {
    std::ifstream file(TEDGE_SOURCE_DIR "/tests/reference/edtf_vectors.csv", std::ios::binary);
    const std::string text((std::istreambuf_iterator<char>(file)), {});
    const auto table = Table::parse(text);
    REQUIRE(table.has_value());
    return *table;
}

std::string lower_text(const Edtf& edtf) {
    if (edtf.lower) return to_iso_text(*edtf.lower);
    return edtf.start == Bound::open ? "open" : "unknown";
}

std::string upper_text(const Edtf& edtf) {
    if (edtf.upper) return to_iso_text(*edtf.upper);
    return edtf.end == Bound::open ? "open" : "unknown";
}

// "1985-04-12T00:00:00Z" and "1985-04-12" are one day; "-inf" is one reader's word for open; a bare year its first day.
std::string published_day(std::string text, std::string_view rest_of_year) {
    text = text.substr(0, text.find('T'));
    if (text == "-inf") return "open";
    const bool bare_year =
        !text.empty() && text.find('-', 1) == std::string::npos && text != "open" && text != "unknown";
    return bare_year ? text + std::string(rest_of_year) : text;
}

Edtf valid(std::string_view text) {
    const auto edtf = parse_edtf(text);
    INFO(text);
    REQUIRE(edtf.has_value());
    return *edtf;
}

void check_bounds(const Table& table, std::size_t row, const Edtf& edtf) {
    // Readers that give "1950S2" its estimate as bounds hold the years it may mean in the fuzzy columns.
    const bool estimated = edtf.text.contains('S') && !table.cell(row, "fuzzy_lower").empty();
    const std::string lower = published_day(table.cell(row, estimated ? "fuzzy_lower" : "lower"), "-01-01");
    const std::string upper = published_day(table.cell(row, estimated ? "fuzzy_upper" : "upper"), "-12-31");
    if (!lower.empty()) CHECK(lower_text(edtf) == lower);
    if (!upper.empty()) CHECK(upper_text(edtf) == upper);
}

struct Tally {
    int accepted = 0;
    int refused = 0;
    int with_bounds = 0;
    int ruled = 0;
};

}  // namespace

TEST_CASE("Published EDTF strings of levels 0, 1 and 2 are read as published") {
    const Table table = published_vectors();
    Tally tally;
    for (std::size_t row = 0; row < table.row_count(); ++row) {
        const std::string& text = table.cell(row, "string");
        const std::string& ruling = table.cell(row, "ruling");
        INFO("row " << row + 2 << ": " << text << " (" << table.cell(row, "source") << ")");
        const auto edtf = parse_edtf(text);
        const bool published_valid = table.cell(row, "valid") == "yes";
        if (ruling.starts_with("valid:")) {
            CHECK(edtf.has_value() != published_valid);
            ++tally.ruled;
            continue;
        }
        REQUIRE(edtf.has_value() == published_valid);
        if (!edtf) {
            ++tally.refused;
            continue;
        }
        ++tally.accepted;
        const std::string& level = table.cell(row, "level");
        if (!level.empty()) CHECK((std::to_string(edtf->level) == level) != ruling.starts_with("level:"));
        if (ruling.starts_with("bounds:")) continue;
        check_bounds(table, row, *edtf);
        if (!table.cell(row, "lower").empty()) ++tally.with_bounds;
    }
    // So that a table cut short does not pass.
    CHECK(table.row_count() == 415);
    CHECK(tally.accepted >= 320);
    CHECK(tally.refused >= 65);
    CHECK(tally.with_bounds >= 95);
    CHECK(tally.ruled == 12);
}

TEST_CASE("Nothing is trimmed, and any string gets an answer") {
    for (const char* text : {"",
                             " ",
                             "1907 ",
                             " 1907",
                             "1907\n",
                             "-",
                             "--",
                             "-1",
                             "T",
                             "S",
                             "Y",
                             "Y-",
                             "YE",
                             "Y1E",
                             "/1907/",
                             "[",
                             "]",
                             "[]",
                             "{}",
                             "[,]",
                             "[..]",
                             "..",
                             "...",
                             "[1907}",
                             "[1907,]",
                             "[1907..1908..]",
                             "[1907,..1908]",
                             "[1907..,1908]",
                             "X",
                             "XXX",
                             "?",
                             "?%",
                             "1907??",
                             "1907S0",
                             "1907S",
                             "-0000",
                             "-0000S1",
                             "1907-13",
                             "1907-20",
                             "1907-42",
                             "1907-21-05",
                             "1907-5",
                             "19O7",
                             "1907-02-29",
                             "1907-05-12T10:00",
                             "1907-05T10:00:00",
                             "1907-05-1X T10:00:00",
                             "1907-05-12~T10:00:00",
                             "1907-05-12T25:00:00",
                             "1907-05-12T24:00:01",
                             "\xff\xfe",
                             "１９０７"}) {
        INFO("\"" << text << "\"");
        CHECK_FALSE(parse_edtf(text).has_value());
    }
    CHECK(parse_edtf("1907-02-29").error().code == "edtf.no-such-day");
    CHECK(parse_edtf("1912/1907").error().code == "edtf.end-before-start");
    CHECK(parse_edtf("Y99999999999999999999").error().code == "edtf.beyond-reach");
    CHECK(parse_edtf("Y1E99").error().code == "edtf.beyond-reach");
    CHECK(parse_edtf("circa 1907").error().code == "edtf.not-edtf");
}

TEST_CASE("Seasons and other parts of a year, by the months of ISO 8601-2") {
    const auto span = [](std::string_view text) {
        const Edtf edtf = valid(text);
        return lower_text(edtf) + ".." + upper_text(edtf);
    };
    CHECK(span("1907-21") == "1907-03-01..1907-05-31");
    CHECK(span("1907-24") == "1907-12-01..1908-02-29");  // winter runs to the end of February
    CHECK(span("1899-24") == "1899-12-01..1900-02-28");  // 1900 is no leap year
    CHECK(span("1907-25") == "1907-03-01..1907-05-31");
    CHECK(span("1907-29") == "1907-09-01..1907-11-30");
    CHECK(span("1907-30") == "1907-12-01..1908-02-29");
    CHECK(span("1907-31") == "1907-03-01..1907-05-31");
    CHECK(span("1907-32") == "1907-06-01..1907-08-31");
    CHECK(span("1907-36") == "1907-10-01..1907-12-31");
    CHECK(span("1907-38") == "1907-05-01..1907-08-31");
    CHECK(span("1907-41") == "1907-07-01..1907-12-31");
    CHECK(span("190X-22") == "1900-06-01..1909-08-31");
}

TEST_CASE("Open and unknown ends are told apart") {
    CHECK(valid("1907/..").is_open());
    CHECK_FALSE(valid("1907/..").is_unknown());
    CHECK(valid("1907/").is_unknown());
    CHECK(valid("/1907").start == Bound::unknown);
    CHECK(valid("../1907").start == Bound::open);
    CHECK(valid("/..").is_open());
    CHECK(valid("/..").is_unknown());
    CHECK(valid("/1907").earliest() == before_all_days);
    CHECK(valid("1907/..").latest() == after_all_days);
}

TEST_CASE("Doubt is noted and does not widen the bounds") {
    CHECK(valid("1907?").uncertain);
    CHECK_FALSE(valid("1907?").approximate);
    CHECK(valid("1907~").approximate);
    CHECK(valid("1907%").uncertain);
    CHECK(valid("1907%").approximate);
    CHECK(valid("190X").unspecified);
    CHECK(lower_text(valid("1907~")) == "1907-01-01");
}

TEST_CASE("Unspecified digits find the first and last day that exist") {
    CHECK(lower_text(valid("1900-02-2X")) == "1900-02-20");
    CHECK(upper_text(valid("1900-02-2X")) == "1900-02-28");
    CHECK(upper_text(valid("19XX-02-29")) == "1996-02-29");
    CHECK(lower_text(valid("19XX-02-29")) == "1904-02-29");
    CHECK(upper_text(valid("-00XX")) == "-0001-12-31");  // there is no year -0000
    CHECK(lower_text(valid("-00XX")) == "-0099-01-01");
    CHECK(upper_text(valid("1907-XX-31")) == "1907-12-31");
    CHECK(lower_text(valid("1907-0X-31")) == "1907-01-31");
    CHECK(upper_text(valid("1907-0X-31")) == "1907-08-31");
}

TEST_CASE("Whatever is taken has its first day not after its last") {
    // Strings of the format's own characters, made with a fixed seed: none may crash the reader or turn its bounds
    // round.
    const std::string characters = "0123456789-X?~%/.[]{},YESTZ:+ ";
    std::mt19937 random(20190204);
    int taken = 0;
    for (int i = 0; i < 200'000; ++i) {
        std::string text;
        for (auto left = random() % 14; left > 0; --left) {
            text += characters[random() % (random() % 2 == 0 ? 10 : characters.size())];
        }
        const auto edtf = parse_edtf(text);
        if (!edtf) continue;
        ++taken;
        INFO(text);
        REQUIRE(edtf->text == text);
        REQUIRE(edtf->level >= 0);
        REQUIRE(edtf->level <= 2);
        REQUIRE(edtf->earliest() <= edtf->latest());
        REQUIRE(edtf->lower.has_value() == (edtf->start == Bound::known));
        REQUIRE(edtf->upper.has_value() == (edtf->end == Bound::known));
    }
    CHECK(taken > 1000);
}

TEST_CASE("Dates read and print alike in every locale") {
    const char* name = GENERATE("de_DE.UTF-8", "tr_TR.UTF-8");
    const InLocale in_locale(name);
    const auto edtf = parse_edtf("Y171010000");
    CHECK(to_iso_text(edtf.value().lower.value()) == "171010000-01-01");  // no grouping of digits
}
