#include "tedge/money/sale_vat.hpp"

#include <fmt/format.h>

#include "tedge/money/margin_scheme.hpp"

namespace tedge::money {

namespace {

Expected<SaleVat> by_margin(const SoldPicture& sold) {
    if (!sold.margin_price) {
        return fail("sale.no-margin-price", "The purchase price for the margin is not recorded.",
                    "Record it with the purchase: hammer, premium and the VAT on them, and nothing else.");
    }
    if (sold.input_vat && sold.input_vat->minor != 0) {
        return fail("sale.vat-was-shown",
                    "A picture bought with VAT shown on its invoice is not sold under the margin scheme.",
                    "Correct the purchase or the scheme; ask an accountant which of them it is.");
    }
    const auto reckoned = margin_scheme(*sold.margin_price, sold.price, sold.vat_percent);
    if (!reckoned) return pass_on(reckoned);
    return SaleVat{reckoned->vat, Money{0, sold.price.currency}, reckoned->margin};
}

// All of the price is taxed, which is a margin over nothing.
Expected<SaleVat> ordinary(const SoldPicture& sold) {
    const auto reckoned = margin_scheme(Money{0, sold.price.currency}, sold.price, sold.vat_percent);
    if (!reckoned) return pass_on(reckoned);
    return SaleVat{reckoned->vat, Money{0, sold.price.currency}, {}};
}

}  // namespace

Expected<SaleScheme> parse_sale_scheme(std::string_view word) {
    if (word == "margin") return SaleScheme::margin;
    if (word == "ordinary") return SaleScheme::ordinary;
    if (word == "export") return SaleScheme::exported;
    if (word == "none") return SaleScheme::untaxed;
    return fail("sale.unknown-scheme", fmt::format("\"{}\" is no way of selling.", word),
                "Give margin, ordinary, export or none.");
}

Expected<SaleVat> sale_vat(const SoldPicture& sold) {
    if (sold.scheme == SaleScheme::margin) return by_margin(sold);
    SaleVat vat{Money{0, sold.price.currency}, Money{0, sold.price.currency}, {}};
    if (sold.scheme == SaleScheme::untaxed) return vat;
    if (sold.scheme == SaleScheme::ordinary) {
        const auto taxed = ordinary(sold);
        if (!taxed) return pass_on(taxed);
        vat = *taxed;
    }
    if (sold.input_vat) {
        const auto recovered = add(vat.recovered, *sold.input_vat);
        if (!recovered) return pass_on(recovered);
        vat.recovered = *recovered;
    }
    return vat;
}

}  // namespace tedge::money
