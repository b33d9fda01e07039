#include "tedge/base/money.hpp"

#include <catch2/catch.hpp>

#include "tedge/base/estimate.hpp"

using namespace tedge;

namespace {

Currency currency(std::string_view code) {
    return Currency::parse(code).value();
}

}  // namespace

TEST_CASE("Currencies have the decimals of ISO 4217") {
    CHECK(currency("GBP").decimals() == 2);
    CHECK(currency("JPY").decimals() == 0);
    CHECK(currency("TND").decimals() == 3);
    for (const char* code : {"", "gbp", "GB", "GBPX", "P G", "XXX"}) CHECK_FALSE(Currency::parse(code).has_value());
}

TEST_CASE("Amounts are read from their text and no penny is made up") {
    CHECK(parse_money("1234.5", currency("GBP"))->minor == 123450);
    CHECK(parse_money("1.5e3", currency("GBP"))->minor == 150000);
    CHECK(parse_money("-0.01", currency("GBP"))->minor == -1);
    CHECK(parse_money("0.005", currency("GBP")).error().code == "money.too-many-decimals");
    CHECK(parse_money("12.5", currency("JPY")).error().code == "money.too-many-decimals");
    CHECK(parse_money("1e14", currency("GBP")).error().code == "money.out-of-range");
    CHECK(parse_money("ten", currency("GBP")).error().code == "money.not-an-amount");
}

TEST_CASE("Amounts are written plainly for machines and grouped for people") {
    CHECK(to_decimal_text({123450, currency("GBP")}) == "1234.50");
    CHECK(to_decimal_text({-5, currency("GBP")}) == "-0.05");
    CHECK(to_decimal_text({1234, currency("JPY")}) == "1234");
    CHECK(to_display_text({123456789, currency("EUR")}) == "EUR 1,234,567.89");
    CHECK(to_display_text({-99999, currency("GBP")}) == "GBP -999.99");
}

TEST_CASE("Sums of different currencies are refused") {
    const Money pounds{100, currency("GBP")};
    CHECK(add(pounds, {250, currency("GBP")})->minor == 350);
    CHECK(subtract(pounds, {250, currency("GBP")})->minor == -150);
    CHECK(add(pounds, {1, currency("EUR")}).error().code == "money.mixed-currencies");
    CHECK(add({8'999'999'999'999'999, currency("GBP")}, {2, currency("GBP")}).error().code == "money.out-of-range");
}

TEST_CASE("Rounding does what its name says, on both sides of zero") {
    CHECK(divide_rounded(5, 2, Rounding::half_away_from_zero) == 3);
    CHECK(divide_rounded(-5, 2, Rounding::half_away_from_zero) == -3);
    CHECK(divide_rounded(-7, 3, Rounding::half_away_from_zero) == -2);
    CHECK(divide_rounded(7, 2, Rounding::toward_zero) == 3);
    CHECK(divide_rounded(-7, 2, Rounding::toward_zero) == -3);
    CHECK(divide_rounded(-7, 2, Rounding::down) == -4);
    CHECK(divide_rounded(-7, 2, Rounding::up) == -3);
    CHECK(divide_rounded(7, 2, Rounding::up) == 4);
}

TEST_CASE("A percentage of an amount is exact until it is rounded") {
    // The margin of 500.00 at one sixth: published as 83.33 (gov.uk, VAT margin schemes, worked example); as a
    // percentage of 500 the sixth is 16.666666667 %.
    const Money margin{50000, currency("GBP")};
    CHECK(percent_of(margin, Decimal::parse("16.666666667").value(), Rounding::half_away_from_zero)->minor == 8333);
    CHECK(percent_of(margin, Decimal::parse("17.5").value(), Rounding::down)->minor == 8750);
}

TEST_CASE("PERT has the moments of its beta distribution") {
    // (2000, 6000, 20000): mean 7,666.67, exact variance 9,984,127 (worked in the reference notes from the beta
    // moments).
    const Estimate<double> estimate{2000, 6000, 20000};
    CHECK(pert_mean(estimate) == Approx(7666.6667).epsilon(1e-7));
    CHECK(pert_variance(estimate) == Approx(9'984'127).epsilon(1e-7));
    CHECK(pert_variance(Estimate<double>::certain(5)) == 0.0);
}
