#include "tedge/base/length.hpp"

#include <catch2/catch.hpp>

using namespace tedge;

TEST_CASE("Lengths are read as the trade writes them") {
    // 1 in = 25.4 mm exactly (international yard and pound agreement, 1959).
    CHECK(parse_length_mm("812") == 812.0);
    CHECK(parse_length_mm(" 812 mm ") == 812.0);
    CHECK(parse_length_mm("81.2cm").value() == Approx(812.0));
    CHECK(parse_length_mm("0.812 m").value() == Approx(812.0));
    CHECK(parse_length_mm("32 in").value() == Approx(812.8));
    CHECK(parse_length_mm("24 in").value() == 609.6);  // to the last bit: it is written down and shown
    CHECK(parse_length_mm("32 1/4 in").value() == Approx(819.15));
    CHECK(parse_length_mm("1/2\"").value() == Approx(12.7));
    CHECK(parse_length_mm("1 ft 2 in").value() == Approx(355.6));
}

TEST_CASE("What is no length is refused") {
    for (const char* text : {"", "wide", "12 parsecs", "3 1/0 in", "4,5", "-", "1//2 in"}) {
        CAPTURE(text);
        CHECK(parse_length_mm(text).error().code == "length.not-a-length");
    }
    CHECK(parse_length_mm("-3 mm").error().code == "length.negative");
}

TEST_CASE("A size stands height first, with inches to the eighth") {
    CHECK(format_size_height_first(762.0, 635.0) == "762 × 635 mm (30 × 25 in)");  // three-quarters, common practice
    CHECK(format_size_height_first(100.0, 50.8) == "100 × 50.8 mm (3 7/8 × 2 in)");
    CHECK(format_length_mm(81.25) == "81.3 mm");
}
