// The dealer's margin scheme: VAT is due on the margin alone and is held inside it.
//
// VAT = max(0, sold − bought) · r / (100 + r); at 20 % one sixth. What was bought counts as paid to the auctioneer for
// the lot (hammer, premium, VAT on them); treatment, framing and fees billed apart never enter it. A loss brings no VAT
// and lowers that of no other picture. Sources: gov.uk VAT margin schemes; HMRC Notice 718/2 for the auctioneers'
// scheme, which reckons the same way on its own purchase and selling price. Ask an accountant before relying on it.
#pragma once

#include <chrono>

#include "tedge/base/decimal.hpp"
#include "tedge/base/money.hpp"

namespace tedge::money {

struct MarginSale {
    Money margin;  // sold − bought, negative on a loss
    Money vat;     // rounded half away from zero
};

// Errors: money.mixed-currencies, margin.negative-price, margin.rate-out-of-range (outside 0 to 100).
[[nodiscard]] Expected<MarginSale> margin_scheme(const Money& bought, const Money& sold, Decimal vat_percent);

// The standard rate of the United Kingdom on a day (resources/reference/vat_rates.csv).
// Errors: margin.no-rate (no rate is known for that day).
[[nodiscard]] Expected<Decimal> standard_vat_percent_on(std::chrono::year_month_day day);
// The rate that holds without an end in sight.
[[nodiscard]] Decimal current_standard_vat_percent();

}  // namespace tedge::money
