#include "tedge/money/resale_royalty.hpp"

#include <catch2/catch.hpp>

#include "reference_rows.hpp"

using namespace tedge;
using namespace tedge::money;
using namespace tedge::test;
using namespace std::chrono_literals;

// Source: SI 2006/346 Schedule 1; the row of 210,000 is the published example of the United Kingdom's collecting
// society.
TEST_CASE("the royalty of every reference row") {
    const Table rows = reference_rows("resale_royalty_examples.csv");
    REQUIRE(rows.row_count() == 12);
    for (std::size_t row = 0; row < rows.row_count(); ++row) {
        INFO(rows.cell(row, "sale_price"));
        const auto royalty = resale_royalty(gbp(rows.cell(row, "sale_price")), 2026y / 3 / 3);
        CHECK(royalty.value() == gbp(rows.cell(row, "royalty")));
    }
}

TEST_CASE("halves of a penny are rounded away from zero") {
    // 4 % of 1,000.12 = 40.0048; of 1,000.13 = 40.0052 (own arithmetic)
    CHECK(resale_royalty(gbp("1000.12"), 2026y / 3 / 3).value() == gbp("40.00"));
    CHECK(resale_royalty(gbp("1000.13"), 2026y / 3 / 3).value() == gbp("40.01"));
    // 6,500 + 1 % of 0.50 = 6,500.005
    CHECK(resale_royalty(gbp("200000.50"), 2026y / 3 / 3).value() == gbp("6500.01"));
}

TEST_CASE("amounts were in euros until 31 March 2024 and are in pounds since") {
    const Money euros = parse_money("210000", Currency::parse("EUR").value()).value();
    CHECK(resale_royalty(euros, 2024y / 3 / 31).value().minor == 660'000);
    CHECK(resale_royalty(gbp("210000"), 2024y / 4 / 1).value().minor == 660'000);
    CHECK(resale_royalty(gbp("210000"), 2024y / 3 / 31).error().code == "money.mixed-currencies");
    CHECK(resale_royalty(euros, 2024y / 4 / 1).error().values.at("royalty_currency") == "GBP");
    CHECK(current_royalty_rules().currency == pounds());
}

TEST_CASE("before the right existed there is no answer") {
    CHECK(resale_royalty(gbp("5000"), 2006y / 2 / 13).error().code == "royalty.no-rules");
    CHECK(royalty_rules_on(2006y / 2 / 14).value().currency.code() == "EUR");
}

TEST_CASE("a negative price is refused, nothing is owed on nothing") {
    CHECK(resale_royalty(gbp("-1"), 2026y / 3 / 3).error().code == "royalty.negative-price");
    CHECK(resale_royalty(gbp("0"), 2026y / 3 / 3).value().minor == 0);
}

TEST_CASE("the royalty never falls as the price rises and never passes the cap") {
    std::int64_t before = 0;
    for (std::int64_t price = 0; price < 300'000'000; price += 777'777) {
        const std::int64_t royalty = resale_royalty({price, pounds()}, 2026y / 3 / 3).value().minor;
        REQUIRE(royalty >= before);
        REQUIRE(royalty <= 1'250'000);
        before = royalty;
    }
    CHECK(before == 1'250'000);
}
