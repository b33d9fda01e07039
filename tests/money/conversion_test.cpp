#include "tedge/money/conversion.hpp"

#include <catch2/catch.hpp>

#include "reference_rows.hpp"

using namespace tedge;
using namespace tedge::money;
using namespace tedge::test;

namespace {

Money in(const char* currency, const char* amount) {
    return parse_money(amount, Currency::parse(currency).value()).value();
}

}  // namespace

// Worked by hand; the decimals of the currencies are those of ISO 4217 (yen none, dinar of Tunisia three).
TEST_CASE("an amount is converted exactly at the recorded rate, and rounded once") {
    const auto to_gbp = [](const char* rate) { return ConversionRate{pounds(), dec(rate)}; };
    CHECK(convert(in("EUR", "10000"), to_gbp("0.8612")).value() == gbp("8612"));
    CHECK(convert(in("EUR", "0.01"), to_gbp("0.5")).value() == gbp("0.01"));  // half a penny, away from zero
    CHECK(convert(in("EUR", "-0.01"), to_gbp("0.5")).value() == gbp("-0.01"));
    CHECK(convert(in("EUR", "0.01"), to_gbp("0.49")).value() == gbp("0"));
    CHECK(convert(in("JPY", "150000"), to_gbp("0.0052")).value() == gbp("780"));
    CHECK(convert(in("TND", "1.234"), to_gbp("0.25")).value() == gbp("0.31"));
    CHECK(convert(gbp("5"), ConversionRate{Currency::parse("JPY").value(), dec("190.5")}).value() == in("JPY", "953"));
    CHECK(convert(gbp("5"), to_gbp("7")).value() == gbp("5"));  // it is in pounds already
}

TEST_CASE("a rate of zero converts nothing, and amounts in two currencies are not added") {
    CHECK(convert(in("EUR", "1"), {pounds(), dec("0")}).error().code == "money.rate-not-above-zero");
    CHECK(convert(in("EUR", "1"), {pounds(), dec("-1")}).error().code == "money.rate-not-above-zero");
    CHECK(convert(in("EUR", "9000000000"), {pounds(), dec("9000000000")}).error().code == "money.out-of-range");
    CHECK(add(gbp("1"), in("EUR", "1")).error().code == "money.mixed-currencies");
}
