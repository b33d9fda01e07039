#include "tedge/money/price_code.hpp"

#include <catch2/catch.hpp>
#include <random>

#include "reference_rows.hpp"

using namespace tedge;
using namespace tedge::money;
using namespace tedge::test;

// The order of the letters (first 1, tenth 0) is trade custom, from memory.
TEST_CASE("a price is written in the letters of the word, and read back") {
    const PriceCode code = PriceCode::parse("blackhorse").value();
    CHECK(code.encode(gbp("1180")).value() == "BBRE");
    CHECK(code.encode(gbp("1179.01")).value() == "BBRE");  // up to the whole pound
    CHECK(code.encode(gbp("234567.00")).value() == "LACKHO");
    CHECK(code.encode(gbp("9")).value() == "S");
    CHECK(code.encode(gbp("0")).value() == "E");
    CHECK(code.decode("bbre", pounds()).value() == gbp("1180"));
    CHECK(code.decode("BBXE", pounds()).error().code == "price-code.not-this-code");
    CHECK(code.decode("", pounds()).error().code == "price-code.not-this-code");
    CHECK(code.encode(gbp("-1")).error().code == "price-code.negative");
    std::mt19937 random(9);
    for (int i = 0; i < 500; ++i) {
        const Money price{std::uniform_int_distribution<std::int64_t>(0, 50'000'000)(random) * 100, pounds()};
        CHECK(code.decode(code.encode(price).value(), pounds()).value() == price);
    }
}

TEST_CASE("what is no word of ten different letters is no code") {
    CHECK(PriceCode::parse("blackhors").error().code == "price-code.not-ten-letters");
    CHECK(PriceCode::parse("blackhorses").error().code == "price-code.not-ten-letters");
    CHECK(PriceCode::parse("black hors").error().code == "price-code.not-ten-letters");
    CHECK(PriceCode::parse("blackh0rse").error().code == "price-code.not-ten-letters");
    CHECK(PriceCode::parse("blacKkorse").error().code == "price-code.repeated-letter");
}
