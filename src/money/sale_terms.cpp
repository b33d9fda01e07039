#include "tedge/money/sale_terms.hpp"

#include <fmt/format.h>

#include "money_range.hpp"

namespace tedge::money {

namespace {

std::unexpected<Error> refused(std::string code, std::string field, std::string reason) {
    return fail(std::move(code), fmt::format("The terms of the sale cannot be used: {} {}.", field, reason),
                "Read the terms of the sale again and mend it.", {{"field", field}, {"reason", reason}});
}

Expected<void> check_percent(std::string field, Decimal value) {
    if (value < Decimal{}) return refused("sale.negative", std::move(field), "is negative");
    if (value > Decimal::from_integer(100)) return refused("sale.out-of-range", std::move(field), "is more than 100 %");
    return {};
}

Expected<void> check_amount(std::string field, std::int64_t minor) {
    if (minor < 0) return refused("sale.negative", std::move(field), "is negative");
    if (minor > largest_minor) return refused("sale.out-of-range", std::move(field), "is too large to be counted");
    return {};
}

Expected<void> check_band_end(const SaleTerms& terms, std::size_t at) {
    const auto end = terms.premium[at].up_to_minor;
    const std::string field = fmt::format("premium[{}].up_to", at);
    const bool is_last = at + 1 == terms.premium.size();
    if (!end)
        return is_last ? Expected<void>()
                       : refused("sale.bands-out-of-order", field, "has no end but is not the last band");
    if (is_last) return refused("sale.no-open-band", field, "ends the last band, which must have no end");
    if (auto amount = check_amount(field, *end); !amount) return amount;
    if (*end == 0) return refused("sale.bands-out-of-order", field, "is 0, so the band is empty");
    if (at > 0 && *end <= terms.premium[at - 1].up_to_minor.value_or(0)) {
        return refused("sale.bands-out-of-order", field, "does not lie above the end of the band before");
    }
    return {};
}

Expected<void> check_bands(const SaleTerms& terms) {
    for (std::size_t i = 0; i < terms.premium.size(); ++i) {
        if (auto rate = check_percent(fmt::format("premium[{}].percent", i), terms.premium[i].percent); !rate)
            return rate;
        if (auto end = check_band_end(terms, i); !end) return end;
    }
    return {};
}

}  // namespace

Expected<void> check(const SaleTerms& terms) {
    if (auto bands = check_bands(terms); !bands) return bands;
    const std::pair<const char*, Decimal> percentages[] = {{"vat_on_premium_percent", terms.vat_on_premium_percent},
                                                           {"vat_on_hammer_percent", terms.vat_on_hammer_percent},
                                                           {"surcharge_percent", terms.surcharge_percent},
                                                           {"surcharge_vat_percent", terms.surcharge_vat_percent}};
    for (const auto& [field, value] : percentages) {
        if (auto rate = check_percent(field, value); !rate) return rate;
    }
    if (auto amount = check_amount("minimum_premium", terms.minimum_premium_minor); !amount) return amount;
    if (auto amount = check_amount("fixed_fees", terms.fixed_fees_minor); !amount) return amount;
    if (terms.royalty && terms.royalty->currency != terms.currency) {
        return refused(
            "sale.royalty-currency", "royalty",
            fmt::format("is reckoned in {}, the sale in {}", terms.royalty->currency.code(), terms.currency.code()));
    }
    return {};
}

}  // namespace tedge::money
