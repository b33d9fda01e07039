// What a lot costs at a hammer price: the invoice line by line, and the way back from a sum to the hammer price.
//
//   premium      = sum over bands of rate × slice of the hammer price, at least the minimum
//   margin price = hammer + premium + VAT on premium + VAT on hammer       (what the margin scheme counts as bought)
//   all-in       = margin price + surcharge with its VAT + fixed fees + royalty passed on
//
// At hammer 0 everything is 0. Reckoned in exact fractions; each figure is rounded only when it is shown, half away
// from zero. The royalty is reckoned on the hammer price (common practice). Where the premium holds its VAT, the line
// "VAT on premium" is the part inside and the line of the premium is the rest. Check values: published invoices and
// tables (tests/reference/auction_invoice_examples.csv, one of them published wrong).
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "tedge/money/sale_terms.hpp"

namespace tedge::money {

enum class Charge {
    hammer,
    premium,
    vat_on_premium,
    vat_on_hammer,
    surcharge,
    vat_on_surcharge,
    fixed_fees,
    royalty,
    rounding,  // what the rounded lines differ from the rounded total
};

[[nodiscard]] std::string_view charge_name(Charge charge);  // "hammer", "premium", "VAT on premium", …

struct InvoiceLine {
    Charge charge;
    Money amount;
};

struct Invoice {
    std::vector<InvoiceLine> lines;  // the hammer, then whatever is not nothing; they add up to the total
    Money total;                     // all-in
    Money margin_price;
    Money vat_to_recover;  // VAT on premium and hammer: recovered by whom the law lets recover it
};

// Errors: those of check(SaleTerms), invoice.negative-hammer, money.mixed-currencies, money.out-of-range.
[[nodiscard]] Expected<Invoice> invoice(const SaleTerms& terms, const Money& hammer);

// The largest hammer price, to the minor unit, whose all-in price is not above `sum`; 0 when there is none.
// Errors: those of check(SaleTerms), invoice.negative-sum, money.mixed-currencies.
[[nodiscard]] Expected<Money> largest_hammer_within(const SaleTerms& terms, const Money& sum);

// One line of an invoice as it came, held against the terms.
struct InvoiceDifference {
    Charge charge;
    Money due;
    Money charged;
    Money difference;  // charged − due: more than nothing where too much was asked
};

// Every charge that is due or was charged, in the order of the invoice. A charge named twice is added up. Lines whose
// premium holds its VAT are compared as one line, `premium`, because such an invoice does not show the VAT apart.
// Errors: those of invoice().
[[nodiscard]] Expected<std::vector<InvoiceDifference>> compare_invoice(const SaleTerms& terms, const Money& hammer,
                                                                       const std::vector<InvoiceLine>& charged);

}  // namespace tedge::money
