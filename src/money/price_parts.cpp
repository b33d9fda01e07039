#include "price_parts.hpp"

#include <algorithm>

#include "royalty_exact.hpp"

namespace tedge::money {

namespace {

Exact banded_premium(const SaleTerms& terms, const Exact& hammer) {
    Exact premium = 0;
    Exact below = 0;
    for (const PremiumBand& band : terms.premium) {
        const Exact top = band.up_to_minor ? std::min<Exact>(hammer, exact(*band.up_to_minor)) : hammer;
        if (top > below) premium += (top - below) * percent(band.percent);
        if (band.up_to_minor) below = exact(*band.up_to_minor);
    }
    return std::max<Exact>(premium, exact(terms.minimum_premium_minor));
}

}  // namespace

PriceParts price_parts(const SaleTerms& terms, std::int64_t hammer_minor) {
    PriceParts parts;
    if (hammer_minor == 0) return parts;
    parts.hammer = exact(hammer_minor);
    const Exact premium = banded_premium(terms, parts.hammer);
    parts.vat_on_premium = premium * (terms.premium_includes_vat ? tax_inside(terms.vat_on_premium_percent)
                                                                 : percent(terms.vat_on_premium_percent));
    parts.premium = terms.premium_includes_vat ? Exact(premium - parts.vat_on_premium) : premium;
    parts.vat_on_hammer = parts.hammer * percent(terms.vat_on_hammer_percent);
    parts.surcharge = parts.hammer * percent(terms.surcharge_percent);
    parts.vat_on_surcharge = parts.surcharge * percent(terms.surcharge_vat_percent);
    parts.fixed_fees = exact(terms.fixed_fees_minor);
    if (terms.royalty) parts.royalty = exact_royalty(*terms.royalty, parts.hammer);
    return parts;
}

}  // namespace tedge::money
