#include "tedge/money/sale_terms.hpp"

#include <catch2/catch.hpp>

#include "reference_rows.hpp"

using namespace tedge;
using namespace tedge::money;
using namespace tedge::test;

namespace {

std::string fault(const SaleTerms& terms) {
    const auto sound = check(terms);
    return sound ? "none" : sound.error().code + " " + sound.error().values.at("field");
}

SaleTerms with_bands(std::vector<PremiumBand> bands) {
    return {.currency = pounds(), .premium = std::move(bands)};
}

}  // namespace

TEST_CASE("sound terms pass") {
    CHECK(fault(with_bands({})) == "none");
    CHECK(fault(with_bands({{std::nullopt, dec("25")}})) == "none");
    CHECK(fault(with_bands({{5'000, dec("0")}, {9'000, dec("100")}, {std::nullopt, dec("12.5")}})) == "none");
}

TEST_CASE("bands out of order are refused with the field") {
    CHECK(fault(with_bands({{std::nullopt, dec("25")}, {std::nullopt, dec("20")}})) ==
          "sale.bands-out-of-order premium[0].up_to");
    CHECK(fault(with_bands({{5'000, dec("25")}, {5'000, dec("20")}, {std::nullopt, dec("9")}})) ==
          "sale.bands-out-of-order premium[1].up_to");
    CHECK(fault(with_bands({{5'000, dec("25")}, {4'000, dec("20")}, {std::nullopt, dec("9")}})) ==
          "sale.bands-out-of-order premium[1].up_to");
    CHECK(fault(with_bands({{0, dec("25")}, {std::nullopt, dec("9")}})) == "sale.bands-out-of-order premium[0].up_to");
    CHECK(fault(with_bands({{5'000, dec("25")}})) == "sale.no-open-band premium[0].up_to");
}

TEST_CASE("rates and amounts that cannot be are refused with the field") {
    CHECK(fault(with_bands({{std::nullopt, dec("-1")}})) == "sale.negative premium[0].percent");
    CHECK(fault(with_bands({{std::nullopt, dec("100.1")}})) == "sale.out-of-range premium[0].percent");
    CHECK(fault(with_bands({{-5, dec("1")}, {std::nullopt, dec("1")}})) == "sale.negative premium[0].up_to");
    SaleTerms terms{.currency = pounds()};
    terms.vat_on_hammer_percent = dec("-5");
    CHECK(fault(terms) == "sale.negative vat_on_hammer_percent");
    terms.vat_on_hammer_percent = {};
    terms.fixed_fees_minor = -1;
    CHECK(fault(terms) == "sale.negative fixed_fees");
    terms.fixed_fees_minor = 9'000'000'000'000'001;
    CHECK(fault(terms) == "sale.out-of-range fixed_fees");
    terms.fixed_fees_minor = 0;
    terms.minimum_premium_minor = -1;
    CHECK(fault(terms) == "sale.negative minimum_premium");
}

TEST_CASE("a royalty reckoned in another currency is refused") {
    SaleTerms terms{.currency = Currency::parse("EUR").value(), .royalty = current_royalty_rules()};
    CHECK(fault(terms) == "sale.royalty-currency royalty");
}
