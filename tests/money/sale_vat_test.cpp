#include "tedge/money/sale_vat.hpp"

#include <catch2/catch.hpp>

#include "reference_rows.hpp"
#include "tedge/money/margin_scheme.hpp"

using namespace tedge;
using namespace tedge::money;
using namespace tedge::test;

namespace {

SoldPicture sold(SaleScheme scheme, const char* price, const char* bought) {
    return {scheme, gbp(price), gbp(bought), {}, dec("20")};
}

}  // namespace

// Sources: HMRC Notice 718/2 section 8, gov.uk VAT margin schemes; the rest as the rows say.
TEST_CASE("every reference row comes out as a sale under the margin scheme, or as an export of the same margin") {
    const Table rows = reference_rows("vat_examples.csv");
    int exported = 0;
    for (std::size_t row = 0; row < rows.row_count(); ++row) {
        INFO(rows.cell(row, "id"));
        const bool untaxed = rows.cell(row, "checked").find("zero-rated") != std::string::npos;
        const auto vat = sale_vat({untaxed ? SaleScheme::exported : SaleScheme::margin,
                                   gbp(rows.cell(row, "selling_price")),
                                   gbp(rows.cell(row, "purchase_price")),
                                   {},
                                   current_standard_vat_percent()});
        REQUIRE(vat);
        CHECK(vat->vat == gbp(rows.cell(row, "vat_due")));
        CHECK(vat->recovered == gbp("0"));
        if (!untaxed) CHECK(vat->margin == gbp(rows.cell(row, "margin")));
        exported += untaxed ? 1 : 0;
    }
    CHECK(exported == 2);
}

// The VAT inside 1,200 at 20 % is 200: gov.uk's fraction of one sixth.
TEST_CASE("ordinary VAT is on all of the price, and the VAT of the purchase comes back") {
    SoldPicture picture = sold(SaleScheme::ordinary, "1200", "600");
    picture.input_vat = gbp("100");
    const auto vat = sale_vat(picture).value();
    CHECK(vat.vat == gbp("200"));
    CHECK(vat.recovered == gbp("100"));
    CHECK_FALSE(vat.margin);
    picture.scheme = SaleScheme::exported;
    CHECK(sale_vat(picture).value().vat == gbp("0"));
    CHECK(sale_vat(picture).value().recovered == gbp("100"));
    picture.scheme = SaleScheme::untaxed;
    CHECK(sale_vat(picture).value().recovered == gbp("0"));
}

TEST_CASE("the margin scheme wants its own purchase price, and none that was bought with VAT shown") {
    SoldPicture picture = sold(SaleScheme::margin, "2000", "1500");
    CHECK(sale_vat(picture).value().vat == gbp("83.33"));
    picture.input_vat = gbp("250");
    CHECK(sale_vat(picture).error().code == "sale.vat-was-shown");
    picture.input_vat.reset();
    picture.margin_price.reset();
    CHECK(sale_vat(picture).error().code == "sale.no-margin-price");
    CHECK(parse_sale_scheme("export").value() == SaleScheme::exported);
    CHECK(parse_sale_scheme("abroad").error().code == "sale.unknown-scheme");
}
