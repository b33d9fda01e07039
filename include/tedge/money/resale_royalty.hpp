// The artist's resale right: a share of the sale price owed on later sales of a living or recently dead artist's work.
//
// United Kingdom: SI 2006/346 Schedule 1, amounts turned from euros into pounds, number for number, on 1 April 2024 by
// SI 2023/1285. Figures: resources/reference/resale_royalty_*.csv, each with its days of validity, source and status.
// Whether the right applies at all (the artist's death year + 70, nationality, a purchase from the artist less than
// three years before at up to 10,000) is for the parties and their advisers; this only reckons the sum.
#pragma once

#include <chrono>
#include <cstdint>
#include <optional>
#include <vector>

#include "tedge/base/decimal.hpp"
#include "tedge/base/money.hpp"

namespace tedge::money {

// percent % on the portion of the price above `above_minor` up to `to_minor` (none: without end).
struct RoyaltyBand {
    std::int64_t above_minor = 0;
    std::optional<std::int64_t> to_minor{};
    Decimal percent{};
};

struct RoyaltyRules {
    Currency currency;
    std::vector<RoyaltyBand> bands{};
    std::int64_t minimum_price_minor = 0;  // below it nothing is owed; at it the royalty is owed on the whole price
    std::int64_t cap_minor = 0;
};

// The rules of the United Kingdom on the day of the contract of sale. Errors: royalty.no-rules (before 14 February
// 2006).
[[nodiscard]] Expected<RoyaltyRules> royalty_rules_on(std::chrono::year_month_day contract_date);

// The rules that hold without an end in sight.
[[nodiscard]] RoyaltyRules current_royalty_rules();

// The royalty on a sale price without tax and premium, rounded half away from zero to the minor unit.
// Errors: royalty.negative-price, money.mixed-currencies (the rules count in another currency on that day).
[[nodiscard]] Expected<Money> resale_royalty(const Money& price, const RoyaltyRules& rules);
[[nodiscard]] Expected<Money> resale_royalty(const Money& price, std::chrono::year_month_day contract_date);

}  // namespace tedge::money
