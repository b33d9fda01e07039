// What is known and guessed before a bid: terms, costs to come, what the picture may prove to be, and what is wanted.
//
// Three-point estimates are PERT distributions with shape 4, independent of one another; a certain value has three
// equal points. Amounts in minor units of currency(), the sale's in its own, percentages as printed, months and factors
// as decimals.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tedge/base/decimal.hpp"
#include "tedge/base/estimate.hpp"
#include "tedge/money/sale_terms.hpp"

namespace tedge::money {

// How the picture will be sold, which settles the VAT on the sale (r = vat_percent):
//   margin_scheme  max(0, price − margin price)·r/(100 + r); nothing recovered on the purchase
//   ordinary       price·r/(100 + r); VAT on premium and hammer recovered
//   abroad         exported: no VAT on the sale; VAT on the purchase recovered only where the plan says so
//   untaxed        no VAT anywhere on the sale, nothing recovered
enum class Selling { margin_scheme, ordinary, abroad, untaxed };

struct CostLine {
    std::string name{};
    Estimate<std::int64_t> amount_minor{};  // net of VAT that is recovered
    std::string treatment{};                // "lining": which act it pays for, where it is one
};

// One thing the picture may prove to be.
struct Outcome {
    std::string name{};
    Decimal probability = Decimal::from_integer(1);
    Estimate<std::int64_t> price_minor{};
    Estimate<Decimal> months{};  // from paying to being paid; counts for the finance alone
    Decimal unsold{};            // the chance that it does not sell as hoped
};

// One state it may be in under the dirt; the factors multiply the price and the sum of the costs.
struct Condition {
    std::string name{};
    Decimal probability = Decimal::from_integer(1);
    Estimate<Decimal> price_factor = Estimate<Decimal>::certain(Decimal::from_integer(1));
    Estimate<Decimal> cost_factor = Estimate<Decimal>::certain(Decimal::from_integer(1));
};

// The other way out, which no plan should be without: sold untouched. Its costs stand in the place of the plan's (what
// has to be paid all the same: carriage, storage, commission on the resale), conditions do not come into it.
struct AsFound {
    Estimate<std::int64_t> price_minor{};
    Estimate<Decimal> months{};
    Decimal unsold{};
    std::vector<CostLine> costs{};
};

// What is left out does not bind.
struct Target {
    std::optional<std::int64_t> profit_minor{};
    std::optional<Decimal> loss_probability{};
    std::optional<std::int64_t> cash_minor{};
};

// With n serious bidders, us among them, and a relative error of judgement uniform within ±e, every price is multiplied
// by 1 − e (n − 2)/n before anything else (n ≤ 2: not at all). Standard result for common values and an ascending sale;
// see Milgrom & Weber, Econometrica 50 (1982) 1089-1122 (bibliography from memory).
struct Bidders {
    Decimal serious{};
    Decimal signal_error{};
};

// A sale in another currency: what it costs is reckoned at `rate` (units of `into` for one of the sale's) with
// `margin_percent` on top, in case the rate moves before it is paid. Rates change daily: whoever plans looks it up.
struct Exchange {
    Currency into;
    Decimal rate{};
    Decimal margin_percent{};
};

// The amount at the rate, with the margin, rounded half away from zero. Errors: money.out-of-range.
[[nodiscard]] Expected<Money> exchanged(const Money& amount, const Exchange& exchange);

struct CeilingPlan {
    SaleTerms sale;
    std::optional<Exchange> exchange{};  // where the sale's currency is not the plan's
    Selling selling = Selling::untaxed;
    bool purchase_vat_recovered = false;  // for `abroad` alone
    Decimal vat_percent{};                // on the sale to come
    std::vector<CostLine> costs{};
    std::vector<Outcome> outcomes{};      // probabilities add up to 1 within 1e-6 and are then made to do so exactly
    std::vector<Condition> conditions{};  // the same; empty: one certain condition with factors 1
    Decimal unsold_recovers = Decimal::from_units(Decimal::units_per_one / 2);  // share of the price it then brings
    Decimal selling_commission_percent{};
    Decimal finance_percent_a_year{};  // simple interest on all-in and costs
    Target target{};
    Bidders bidders{};
    std::optional<AsFound> as_found{};

    // Of costs, prices and profits. Hammer prices, bids and increments are in that of the sale.
    [[nodiscard]] const Currency& currency() const { return exchange ? exchange->into : sale.currency; }
};

// The same purchase, sold untouched: a plan by itself. None where the plan does not say what that would bring.
[[nodiscard]] std::optional<CeilingPlan> as_found_plan(const CeilingPlan& plan);

// Errors, all with values.field ("outcomes[1].price", "sale.premium[0].up_to") and values.reason:
// plan.no-outcomes, plan.too-long (more than 60 costs, outcomes or conditions), plan.probabilities (values.sum),
// plan.not-in-order (low <= likely <= high does not hold), plan.negative, plan.out-of-range, plan.contradiction, and
// those of check(SaleTerms).
[[nodiscard]] Expected<void> check(const CeilingPlan& plan);

// Reads the JSON form of a plan (docs: the command `tedge ceiling`). Amounts are read from their text: more decimals
// than the currency has are refused. Probabilities, percentages, months and factors are rounded to nine decimals, half
// away from zero. A misspelt field is refused by its name; "comment" and "note" may stand anywhere; null means left
// out.
//
// Left out: `sale` and `outcomes` and `currency` must be there; `vat_percent` too for the margin scheme and ordinary
// VAT; `months` too where there is finance. Without `selling` no VAT on the sale is reckoned; without `increments`
// every penny is a bid. One outcome may say `"remainder": true` instead of a probability and takes what the others
// leave of 1. `treatment` of a cost and `rests_on` of an outcome (ids of comparables) are kept for the reader. The sale
// may name a `currency` of its own: terms printed in another than the plan's are refused (money.mixed-currencies)
// unless it says `rate`, with `rate_margin_percent` for safety. Routes, deposit, deadlines and the like may stand with
// the terms and are kept for the reader.
// Errors beside those of check(): plan.not-json, plan.wrong-kind, plan.missing-field, plan.unknown-field,
// plan.repeated-field, plan.too-many-decimals, money.unknown-currency, increments.*.
[[nodiscard]] Expected<CeilingPlan> parse_ceiling_plan(std::string_view json);

// `currency` and `sale` of such a file, whatever else it holds: enough for an invoice.
[[nodiscard]] Expected<SaleTerms> parse_sale_terms(std::string_view json);

}  // namespace tedge::money
