// What a sale adds to the hammer price: its terms, read before the sale. Data of that sale, never constants.
//
// Amounts in minor units of `currency`; percentages as printed (25 means 25 %).
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "tedge/base/decimal.hpp"
#include "tedge/base/money.hpp"
#include "tedge/money/increments.hpp"
#include "tedge/money/resale_royalty.hpp"

namespace tedge::money {

// percent % on the slice of the hammer price between the end of the band before and `up_to_minor` (none: no end).
struct PremiumBand {
    std::optional<std::int64_t> up_to_minor{};
    Decimal percent{};
};

struct SaleTerms {
    Currency currency;
    std::vector<PremiumBand> premium{};  // ascending, the last one open; empty: no premium
    bool premium_includes_vat = false;   // the bands and the minimum already hold the VAT on the premium
    std::int64_t minimum_premium_minor = 0;
    Decimal vat_on_premium_percent{};
    Decimal vat_on_hammer_percent{};  // ordinary VAT, or import VAT on a lot from abroad
    Decimal surcharge_percent{};      // of the hammer price, for example for bidding online; final as it stands
    Decimal surcharge_vat_percent{};  // where the terms print the surcharge without its VAT
    std::int64_t fixed_fees_minor = 0;
    std::optional<RoyaltyRules> royalty{};  // passed on to the buyer by these rules; none: not passed on
    Increments increments{};
};

// Errors, all with values.field ("premium[1].up_to") and values.reason: sale.bands-out-of-order, sale.no-open-band,
// sale.negative, sale.out-of-range (a percentage above 100, an amount beyond the range of Money),
// sale.royalty-currency (the rules of the royalty count in another currency).
[[nodiscard]] Expected<void> check(const SaleTerms& terms);

}  // namespace tedge::money
