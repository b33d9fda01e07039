#include "tedge/base/decimal.hpp"

#include <catch2/catch.hpp>

using namespace tedge;

TEST_CASE("Decimals are read exactly, as JSON may write them (RFC 8259 section 6)") {
    CHECK(Decimal::parse("17.5")->units() == 17'500'000'000);
    CHECK(Decimal::parse("-0.1")->units() == -100'000'000);
    CHECK(Decimal::parse("2.5E1")->units() == 25'000'000'000);
    CHECK(Decimal::parse("1e-9")->units() == 1);
    CHECK(Decimal::parse("1.50000000000000")->units() == 1'500'000'000);
    CHECK(Decimal::parse("0e99")->units() == 0);
    CHECK(Decimal::parse("20")->to_text() == "20");
    CHECK(Decimal::parse("-0.125")->to_text() == "-0.125");
}

TEST_CASE("What is no decimal, or no exact one, is refused") {
    for (const char* text : {"", "-", ".", "1.", "+1", " 1", "1 ", "1,5", "0x10", "nan", "1e", "1e1.5"}) {
        CAPTURE(text);
        const auto read = Decimal::parse(text);
        REQUIRE_FALSE(read.has_value());
        CHECK(read.error().code == "decimal.not-a-number");
    }
    CHECK(Decimal::parse("0.1234567891").error().code == "decimal.too-many-decimals");
    CHECK(Decimal::parse("1e12").error().code == "decimal.out-of-range");
}
