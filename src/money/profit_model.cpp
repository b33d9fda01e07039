#include "profit_model.hpp"

#include <algorithm>

namespace tedge::money {

namespace {

template <class T>
ExactEstimate exact_estimate(const Estimate<T>& e) {
    return {exact(e.low), exact(e.likely), exact(e.high)};
}

Exact shade_of(const Bidders& bidders) {
    const Exact n = exact(bidders.serious);
    if (n <= 2) return 1;
    return 1 - exact(bidders.signal_error) * (n - 2) / n;
}

template <class Item>
Exact sum_of_probabilities(const std::vector<Item>& items) {
    Exact sum = 0;
    for (const Item& item : items) sum += exact(item.probability);
    return sum;
}

bool is_taxed(Selling selling) {
    return selling == Selling::margin_scheme || selling == Selling::ordinary;
}

bool recovers_vat(const CeilingPlan& plan) {
    return plan.selling == Selling::ordinary || (plan.selling == Selling::abroad && plan.purchase_vat_recovered);
}

}  // namespace

bool Stratum::price_is_certain() const {
    return highest_price() == 0 || (price.is_certain() && price_factor.is_certain());
}

ProfitModel::ProfitModel(const CeilingPlan& plan)
    : plan_(plan),
      kept_(1 - percent(plan.selling_commission_percent)),
      tax_share_(is_taxed(plan.selling) ? tax_inside(plan.vat_percent) : Exact(0)),
      interest_a_month_(percent(plan.finance_percent_a_year) / 12),
      from_sale_(plan.exchange ? exchange_factor(*plan.exchange, plan.sale.currency) : Exact(1)),
      shade_(shade_of(plan.bidders)) {
    if (plan_.conditions.empty()) plan_.conditions.push_back(Condition{});
    for (const CostLine& line : plan_.costs) {
        costs_.push_back(exact_estimate(line.amount_minor));
        mean_cost_ += costs_.back().mean();
        highest_cost_ += costs_.back().high;
    }
    const Exact all = sum_of_probabilities(plan_.outcomes) * sum_of_probabilities(plan_.conditions);
    for (const Condition& condition : plan_.conditions) {
        largest_cost_factor_ = std::max<Exact>(largest_cost_factor_, exact(condition.cost_factor.high));
        for (const Outcome& outcome : plan_.outcomes) {
            add_strata(outcome, condition, exact(outcome.probability) * exact(condition.probability) / all);
        }
    }
    for (const Stratum& s : strata_) {
        mean_price_ += s.weight * s.price.mean() * s.price_factor.mean();
        mean_months_ += s.weight * s.months.mean();
        mean_factored_cost_ += s.weight * mean_cost_ * s.cost_factor.mean();
    }
}

void ProfitModel::add_strata(const Outcome& outcome, const Condition& condition, const Exact& weight) {
    const Exact unsold = exact(outcome.unsold);
    const ExactEstimate price = exact_estimate(outcome.price_minor).times(shade_);
    const ExactEstimate months = exact_estimate(outcome.months).times(interest_a_month_ > 0 ? Exact(1) : Exact(0));
    const Stratum sold{weight * (1 - unsold), price, exact_estimate(condition.price_factor),
                       exact_estimate(condition.cost_factor), months};
    Stratum left = sold;
    left.weight = weight * unsold;
    left.price = price.times(exact(plan_.unsold_recovers));
    left.months = months.times(2);
    if (sold.weight > 0) strata_.push_back(sold);
    if (left.weight > 0) strata_.push_back(left);
}

Purchase ProfitModel::purchase_at(std::int64_t hammer_minor) const {
    const PriceParts parts = price_parts(plan_.sale, hammer_minor);
    const Exact recovered = recovers_vat(plan_) ? parts.vat_to_recover() : Exact(0);
    if (!plan_.exchange) return {parts.all_in(), parts.margin_price(), recovered};
    return {parts.all_in() * from_sale_, parts.margin_price() * from_sale_, recovered * from_sale_};
}

std::int64_t ProfitModel::hammer_limit(const Exact& minor) const {
    return search_limit(minor / from_sale_);
}

Exact ProfitModel::cash_needed(const Purchase& purchase) const {
    return purchase.all_in + highest_cost_ * largest_cost_factor_;
}

bool ProfitModel::is_certain(const Stratum& stratum) const {
    const bool costs_certain = std::ranges::all_of(costs_, [](const ExactEstimate& cost) { return cost.is_certain(); });
    const bool factored_costs_certain =
        highest_cost_ == 0 || stratum.cost_factor.high == 0 || (costs_certain && stratum.cost_factor.is_certain());
    return stratum.price_is_certain() && factored_costs_certain && stratum.months.is_certain();
}

Exact ProfitModel::untaxed_price(const Purchase& purchase) const {
    return plan_.selling == Selling::margin_scheme ? purchase.margin_price : Exact(0);
}

Exact ProfitModel::profit(const Exact& price, const Exact& costs, const Exact& months, const Purchase& purchase) const {
    const Exact taxed = std::max<Exact>(price - untaxed_price(purchase), 0);
    const Exact spent = purchase.all_in + costs;
    return price * kept_ - taxed * tax_share_ + purchase.vat_recovered - spent - spent * interest_a_month_ * months;
}

Exact ProfitModel::certain_profit(const Stratum& stratum, const Purchase& purchase) const {
    return worst_profit(stratum, purchase);
}

Exact ProfitModel::worst_profit(const Stratum& s, const Purchase& purchase) const {
    return profit(s.lowest_price(), highest_cost_ * s.cost_factor.high, s.months.high, purchase);
}

Exact ProfitModel::mean_before_margin_tax(const Purchase& purchase) const {
    Exact mean = mean_price_ * kept_ + purchase.vat_recovered - purchase.all_in - mean_factored_cost_;
    if (plan_.selling == Selling::ordinary) mean -= mean_price_ * tax_share_;
    // The condition, which moves the costs, and the outcome, which moves the months, are independent.
    return mean - (purchase.all_in + mean_factored_cost_) * interest_a_month_ * mean_months_;
}

Exact ProfitModel::highest_price() const {
    Exact highest = 0;
    for (const Stratum& stratum : strata_) highest = std::max<Exact>(highest, stratum.highest_price());
    return highest;
}

}  // namespace tedge::money
