// A plan taken apart into strata (outcome × condition × sold or not), each with exact fractions, and what can be said
// of the profit exactly.
#pragma once

#include <cstdint>
#include <vector>

#include "exact.hpp"
#include "price_parts.hpp"
#include "tedge/money/ceiling_plan.hpp"

namespace tedge::money {

struct ExactEstimate {
    Exact low, likely, high;

    [[nodiscard]] bool is_certain() const { return low == high; }
    [[nodiscard]] Exact mean() const { return pert_mean(low, likely, high); }
    [[nodiscard]] ExactEstimate times(const Exact& factor) const {
        return {low * factor, likely * factor, high * factor};
    }
};

// One way it may go; weight > 0. Winner's curse and what an unsold picture brings are already in the price.
struct Stratum {
    Exact weight;
    ExactEstimate price;
    ExactEstimate price_factor;
    ExactEstimate cost_factor;
    ExactEstimate months;  // doubled where it stays unsold; nothing where there is no finance

    [[nodiscard]] bool price_is_certain() const;
    [[nodiscard]] Exact lowest_price() const { return price.low * price_factor.low; }
    [[nodiscard]] Exact highest_price() const { return price.high * price_factor.high; }
};

// What a hammer price costs, in exact minor units.
struct Purchase {
    Exact all_in;
    Exact margin_price;
    Exact vat_recovered;
};

class ProfitModel {
public:
    explicit ProfitModel(const CeilingPlan& plan);  // the plan must have passed check()

    [[nodiscard]] const CeilingPlan& plan() const { return plan_; }
    [[nodiscard]] const std::vector<Stratum>& strata() const { return strata_; }
    [[nodiscard]] const std::vector<ExactEstimate>& costs() const { return costs_; }

    [[nodiscard]] Purchase purchase_at(std::int64_t hammer_minor) const;  // in the plan's currency
    // The largest hammer price that need be asked about where at most `minor` of the plan's currency can be paid.
    [[nodiscard]] std::int64_t hammer_limit(const Exact& minor) const;
    [[nodiscard]] Exact cash_needed(const Purchase& purchase) const;  // all-in and every cost at its highest

    // True where nothing about the profit of the stratum is uncertain.
    [[nodiscard]] bool is_certain(const Stratum& stratum) const;
    [[nodiscard]] Exact certain_profit(const Stratum& stratum, const Purchase& purchase) const;
    // Lowest price, highest costs, longest wait: the profit cannot be less.
    [[nodiscard]] Exact worst_profit(const Stratum& stratum, const Purchase& purchase) const;

    // The mean profit without the VAT of the margin scheme, which alone is not linear. Exact, for means of products of
    // independent values are products of means.
    [[nodiscard]] Exact mean_before_margin_tax(const Purchase& purchase) const;

    [[nodiscard]] Exact mean_price() const { return mean_price_; }
    [[nodiscard]] const Exact& shade() const {
        return shade_;
    }  // what prices are multiplied by for the bidders there are
    [[nodiscard]] Exact highest_price() const;

    // Slopes: what is left of a pound of the price after commission; the share of the taxed part that is VAT; interest
    // a month.
    [[nodiscard]] const Exact& kept() const { return kept_; }
    [[nodiscard]] const Exact& tax_share() const { return tax_share_; }
    [[nodiscard]] const Exact& interest_a_month() const { return interest_a_month_; }
    // The price above which VAT on the sale begins: the margin price under the margin scheme, else 0.
    [[nodiscard]] Exact untaxed_price(const Purchase& purchase) const;

private:
    [[nodiscard]] Exact profit(const Exact& price, const Exact& costs, const Exact& months,
                               const Purchase& purchase) const;
    void add_strata(const Outcome& outcome, const Condition& condition, const Exact& weight);

    CeilingPlan plan_;
    std::vector<Stratum> strata_;
    std::vector<ExactEstimate> costs_;
    Exact kept_, tax_share_, interest_a_month_;
    Exact from_sale_;  // minor units of the plan's currency for one of the sale's
    Exact shade_;
    Exact mean_cost_, highest_cost_, largest_cost_factor_;
    Exact mean_price_, mean_months_, mean_factored_cost_;
};

}  // namespace tedge::money
