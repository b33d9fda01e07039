// Random plans: banded premiums, minima, inclusive VAT, surcharges, royalties, every way of selling, every sort of
// increments.
#pragma once

#include <algorithm>
#include <random>

#include "plan_texts.hpp"
#include "reference_rows.hpp"

namespace tedge::test {

class RandomPlans {
public:
    explicit RandomPlans(std::uint64_t seed) : random_(seed) {}

    money::CeilingPlan plan() {
        money::CeilingPlan plan{.sale = sale()};
        plan.selling = static_cast<money::Selling>(below(4));
        plan.purchase_vat_recovered = plan.selling == money::Selling::abroad && below(2) == 0;
        plan.vat_percent = whole(26);
        for (std::uint64_t i = below(4); i > 0; --i) plan.costs.push_back({.amount_minor = amounts(200'000)});
        const std::uint64_t outcomes = 1 + below(3);
        for (std::uint64_t i = 0; i < outcomes; ++i) plan.outcomes.push_back(outcome(outcomes, i));
        if (below(2) == 0) {
            plan.conditions = {{.probability = dec("0.75")},
                               {.probability = dec("0.25"), .price_factor = factors(), .cost_factor = factors()}};
        }
        plan.selling_commission_percent = whole(15);
        plan.finance_percent_a_year = whole(12);
        plan.bidders = {whole(8), dec("0.2")};
        plan.target = {.profit_minor = amount(500'000),
                       .loss_probability = Decimal::from_units(amount(900'000'000)),
                       .cash_minor = amount(5'000'000)};
        return plan;
    }

    // The same with every estimate at its likely value: an answer that can be reckoned exactly, whatever the selling.
    money::CeilingPlan certain_plan() {
        money::CeilingPlan plan = this->plan();
        for (money::CostLine& line : plan.costs) settle(line.amount_minor);
        for (money::Outcome& outcome : plan.outcomes) {
            settle(outcome.price_minor);
            settle(outcome.months);
        }
        for (money::Condition& condition : plan.conditions) {
            settle(condition.price_factor);
            settle(condition.cost_factor);
        }
        return plan;
    }

private:
    std::uint64_t below(std::uint64_t end) { return random_() % end; }
    std::int64_t amount(std::uint64_t end) { return static_cast<std::int64_t>(below(end)); }
    Decimal whole(std::uint64_t end) { return Decimal::from_integer(static_cast<std::int32_t>(below(end))); }

    template <class T>
    static void settle(Estimate<T>& estimate) {
        estimate = Estimate<T>::certain(estimate.likely);
    }

    // Up to four bands, their rates odd to the ninth decimal.
    std::vector<money::PremiumBand> bands() {
        std::vector<money::PremiumBand> bands;
        std::int64_t end = 0;
        for (std::uint64_t i = below(4); i > 0; --i) {
            end += 1 + amount(1'500'000);
            bands.push_back({end, Decimal::from_units(amount(35'000'000'000))});
        }
        bands.push_back({std::nullopt, Decimal::from_units(amount(30'000'000'000))});
        return bands;
    }

    money::Increments increments() {
        switch (below(5)) {
            case 0:
                return {};
            case 1:
                return money::Increments::named("fine", pounds()).value();
            case 2:
                return money::Increments::from_bids({5'000, 12'345, 80'000, 1'000'000, 2'500'050}).value();
            case 3:
                return money::Increments::from_rules(
                           {{.from_minor = 0, .to_minor = 70'000, .step_minor = 3'333},
                            {.from_minor = 70'000, .endings_minor = {1, 40'000}, .within_minor = 90'000}})
                    .value();
            default:
                return money::Increments::named("common", pounds()).value();
        }
    }

    money::SaleTerms sale() {
        money::SaleTerms terms{.currency = pounds()};
        terms.premium = bands();
        terms.premium_includes_vat = below(3) == 0;
        terms.minimum_premium_minor = below(2) == 0 ? amount(9'000) : 0;
        terms.vat_on_premium_percent = dec("20");
        terms.vat_on_hammer_percent = Decimal::from_integer(static_cast<std::int32_t>(5 * below(3)));
        terms.surcharge_percent = dec("3.6");
        terms.surcharge_vat_percent = whole(21);
        terms.fixed_fees_minor = amount(5'000);
        if (below(2) == 0) terms.royalty = money::current_royalty_rules();
        terms.increments = increments();
        return terms;
    }

    Estimate<std::int64_t> amounts(std::uint64_t size) {
        const std::int64_t low = amount(size);
        if (below(4) == 0) return Estimate<std::int64_t>::certain(low);
        const std::int64_t likely = low + amount(size);
        return {low, likely, likely + amount(size)};
    }

    Estimate<Decimal> factors() {
        const std::int64_t low = 100'000'000 + amount(900'000'000);
        const std::int64_t likely = low + amount(500'000'000);
        return {Decimal::from_units(low), Decimal::from_units(likely), Decimal::from_units(likely + 100'000'000)};
    }

    money::Outcome outcome(std::uint64_t of, std::uint64_t at) {
        const std::int64_t share = Decimal::units_per_one / static_cast<std::int64_t>(of);
        return {.probability = Decimal::from_units(share),
                .price_minor = amounts(at == 0 ? 3'000'000 : 1'000'000),
                .months = {dec("2"), dec("5"), dec("20")},
                .unsold = Decimal::from_units(amount(400'000'000))};
    }

    std::mt19937_64 random_;
};

}  // namespace tedge::test
