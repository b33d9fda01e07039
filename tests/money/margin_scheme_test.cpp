#include "tedge/money/margin_scheme.hpp"

#include <catch2/catch.hpp>

#include "reference_rows.hpp"

using namespace tedge;
using namespace tedge::money;
using namespace tedge::test;
using namespace std::chrono_literals;

// Sources: HMRC Notice 718/2 (March 2011 text) section 8; gov.uk VAT margin schemes; the rest as the rows say.
TEST_CASE("margin and VAT of every reference row") {
    const Table rows = reference_rows("vat_examples.csv");
    REQUIRE(rows.row_count() == 10);
    for (std::size_t row = 0; row < rows.row_count(); ++row) {
        INFO(rows.cell(row, "id"));
        const bool untaxed = rows.cell(row, "checked").find("zero-rated") != std::string::npos;
        const auto sale = margin_scheme(gbp(rows.cell(row, "purchase_price")), gbp(rows.cell(row, "selling_price")),
                                        untaxed ? Decimal{} : current_standard_vat_percent());
        REQUIRE(sale);
        CHECK(sale->margin == gbp(rows.cell(row, "margin")));
        CHECK(sale->vat == gbp(rows.cell(row, "vat_due")));
    }
}

// In the auctioneers' scheme the purchase price is the hammer less commission, the selling price the hammer with what
// the buyer is charged (Notice 718/2 section 4).
TEST_CASE("the auctioneers' purchase and selling prices of the notice follow from its inputs") {
    const Table rows = reference_rows("vat_examples.csv");
    int checked = 0;
    for (std::size_t row = 0; row < rows.row_count(); ++row) {
        if (!rows.cell(row, "scheme").starts_with("auctioneers")) continue;
        const Money hammer = gbp(rows.cell(row, "hammer"));
        CHECK(subtract(hammer, gbp(rows.cell(row, "seller_commission"))).value() ==
              gbp(rows.cell(row, "purchase_price")));
        CHECK(add(hammer, gbp(rows.cell(row, "buyers_premium"))).value() == gbp(rows.cell(row, "selling_price")));
        ++checked;
    }
    CHECK(checked == 5);
}

TEST_CASE("the VAT inside a margin is r / (100 + r)") {
    CHECK(margin_scheme(gbp("0"), gbp("119"), dec("19")).value().vat == gbp("19"));
    CHECK(margin_scheme(gbp("0"), gbp("105.5"), dec("5.5")).value().vat == gbp("5.50"));
    CHECK(margin_scheme(gbp("0"), gbp("100"), dec("0")).value().vat == gbp("0"));
    CHECK(margin_scheme(gbp("0"), gbp("0.03"), dec("20")).value().vat == gbp("0.01"));  // half a penny, away from zero
    CHECK(margin_scheme(gbp("0"), gbp("0.02"), dec("20")).value().vat == gbp("0"));
}

TEST_CASE("what cannot be a sale is refused") {
    const Money euro = parse_money("5", Currency::parse("EUR").value()).value();
    CHECK(margin_scheme(gbp("5"), euro, dec("20")).error().code == "money.mixed-currencies");
    CHECK(margin_scheme(gbp("-5"), gbp("5"), dec("20")).error().code == "margin.negative-price");
    CHECK(margin_scheme(gbp("5"), gbp("-5"), dec("20")).error().code == "margin.negative-price");
    CHECK(margin_scheme(gbp("5"), gbp("6"), dec("-1")).error().code == "margin.rate-out-of-range");
    CHECK(margin_scheme(gbp("5"), gbp("6"), dec("101")).error().code == "margin.rate-out-of-range");
}

TEST_CASE("the standard rate has its days") {
    CHECK(standard_vat_percent_on(2026y / 3 / 3).value() == dec("20"));
    CHECK(standard_vat_percent_on(2010y / 12 / 31).error().code == "margin.no-rate");
}
