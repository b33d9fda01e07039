// Random plans reckoned a second time, here, in exact fractions and by other formulas than the library's. What is said
// of a ceiling is then no matter of rounding: it holds at its hammer price and its bid, and fails a penny above the one
// and an increment above the other. The rules are those written in ceiling.hpp and ceiling_plan.hpp.
#include <catch2/catch.hpp>

#include <fmt/format.h>
#include <gmpxx.h>

#include "random_plans.hpp"

using namespace tedge;
using namespace tedge::money;
using namespace tedge::test;

namespace {

using Fraction = mpq_class;

Fraction fraction(std::int64_t value) {
    return Fraction(fmt::format("{}", value));
}

Fraction fraction(Decimal value) {
    return fraction(value.units()) / fraction(Decimal::units_per_one);
}

Fraction percentage(Decimal value) {
    return fraction(value) / 100;
}

template <class T>
Fraction mean(const Estimate<T>& e) {
    return (fraction(e.low) + 4 * fraction(e.likely) + fraction(e.high)) / 6;
}

// Each rate by how far it differs from the next one, on all that lies below the end of its band.
Fraction premium(const SaleTerms& terms, const Fraction& hammer) {
    Fraction sum = hammer * percentage(terms.premium.back().percent);
    for (std::size_t i = 0; i + 1 < terms.premium.size(); ++i) {
        const Fraction step = percentage(terms.premium[i].percent) - percentage(terms.premium[i + 1].percent);
        sum += step * std::min<Fraction>(hammer, fraction(terms.premium[i].up_to_minor.value()));
    }
    return std::max<Fraction>(sum, fraction(terms.minimum_premium_minor));
}

// The same from the other side: each rate by how far it differs from the one before, on all above its band's beginning.
Fraction royalty(const RoyaltyRules& rules, const Fraction& price) {
    if (price < fraction(rules.minimum_price_minor)) return 0;
    Fraction sum = 0;
    Fraction rate = 0;
    for (const RoyaltyBand& band : rules.bands) {
        sum += (percentage(band.percent) - rate) * std::max<Fraction>(price - fraction(band.above_minor), 0);
        rate = percentage(band.percent);
    }
    return std::min<Fraction>(sum, fraction(rules.cap_minor));
}

struct Paid {
    Fraction all_in = 0;
    Fraction margin_price = 0;
    Fraction vat = 0;  // on premium and hammer
};

Paid paid(const SaleTerms& terms, std::int64_t hammer_minor) {
    if (hammer_minor == 0) return {};
    const Fraction hammer = fraction(hammer_minor);
    const Fraction rate = percentage(terms.vat_on_premium_percent);
    const Fraction asked = premium(terms, hammer);
    const Fraction gross = terms.premium_includes_vat ? asked : Fraction(asked * (1 + rate));
    const Fraction vat_on_hammer = hammer * percentage(terms.vat_on_hammer_percent);
    Paid paid{.margin_price = hammer + gross + vat_on_hammer, .vat = vat_on_hammer + gross - gross / (1 + rate)};
    paid.all_in = paid.margin_price + fraction(terms.fixed_fees_minor) +
                  hammer * percentage(terms.surcharge_percent) * (1 + percentage(terms.surcharge_vat_percent));
    if (terms.royalty) paid.all_in += royalty(*terms.royalty, hammer);
    return paid;
}

std::vector<Condition> conditions_of(const CeilingPlan& plan) {
    return plan.conditions.empty() ? std::vector<Condition>(1) : plan.conditions;
}

Fraction cash_needed(const CeilingPlan& plan, std::int64_t hammer) {
    Fraction costs = 0;
    for (const CostLine& line : plan.costs) costs += fraction(line.amount_minor.high);
    Fraction factor = 0;
    for (const Condition& c : conditions_of(plan)) factor = std::max<Fraction>(factor, fraction(c.cost_factor.high));
    return paid(plan.sale, hammer).all_in + costs * factor;
}

Fraction shade(const Bidders& bidders) {
    const Fraction n = fraction(bidders.serious);
    return n <= 2 ? Fraction(1) : Fraction(1 - fraction(bidders.signal_error) * (n - 2) / n);
}

// One way it may go, by the means of what is uncertain in it.
struct Way {
    Fraction weight;
    Fraction price;
    Fraction costs;
    Fraction months;
};

std::vector<Way> ways(const CeilingPlan& plan) {
    Fraction costs = 0;
    for (const CostLine& line : plan.costs) costs += mean(line.amount_minor);
    std::vector<Way> ways;
    Fraction all = 0;
    for (const Condition& c : conditions_of(plan)) {
        for (const Outcome& o : plan.outcomes) {
            const Fraction weight = fraction(c.probability) * fraction(o.probability);
            const Fraction price = mean(o.price_minor) * shade(plan.bidders) * mean(c.price_factor);
            const Fraction unsold = fraction(o.unsold);
            const Fraction factored = costs * mean(c.cost_factor);
            ways.push_back({weight * (1 - unsold), price, factored, mean(o.months)});
            ways.push_back({weight * unsold, price * fraction(plan.unsold_recovers), factored, 2 * mean(o.months)});
            all += weight;
        }
    }
    for (Way& way : ways) way.weight /= all;
    return ways;
}

Fraction vat_on_sale(const CeilingPlan& plan, const Way& way, const Paid& paid) {
    const Fraction rate = fraction(plan.vat_percent);
    if (plan.selling == Selling::ordinary) return way.price * rate / (100 + rate);
    if (plan.selling != Selling::margin_scheme || way.price <= paid.margin_price) return 0;
    return (way.price - paid.margin_price) * rate / (100 + rate);
}

Fraction profit(const CeilingPlan& plan, const Way& way, const Paid& paid) {
    const bool recovers = plan.selling == Selling::ordinary || plan.purchase_vat_recovered;
    const Fraction finance = (paid.all_in + way.costs) * percentage(plan.finance_percent_a_year) * way.months / 12;
    return way.price * (1 - percentage(plan.selling_commission_percent)) - vat_on_sale(plan, way, paid) - paid.all_in +
           (recovers ? paid.vat : Fraction(0)) - way.costs - finance;
}

Fraction expected_profit(const CeilingPlan& plan, std::int64_t hammer) {
    const Paid price = paid(plan.sale, hammer);
    Fraction sum = 0;
    for (const Way& way : ways(plan)) sum += way.weight * profit(plan, way, price);
    return sum;
}

Fraction chance_of_loss(const CeilingPlan& plan, std::int64_t hammer) {
    const Paid price = paid(plan.sale, hammer);
    Fraction sum = 0;
    for (const Way& way : ways(plan)) {
        if (profit(plan, way, price) < 0) sum += way.weight;
    }
    return sum;
}

// What was found at all: a test of nothing but zeros would say nothing.
struct Seen {
    int hammers = 0;
    int bids = 0;
    int lasts = 0;  // bids with none above them in the table
};

// `holds` at the ceiling and at its bid, and no longer a penny and an increment above.
template <class Holds>
void check_ceiling(const CeilingPlan& plan, const Ceiling& ceiling, Holds holds, Seen& seen) {
    const std::int64_t hammer = ceiling.hammer.minor;
    const std::int64_t bid = ceiling.bid.minor;
    if (hammer > 0) CHECK(holds(hammer));
    CHECK_FALSE(holds(hammer + 1));
    CHECK(bid <= hammer);
    if (bid > 0) CHECK(holds(bid));
    const auto next = plan.sale.increments.lowest_above(bid);
    if (next) CHECK_FALSE(holds(*next));
    if (bid > 0) CHECK(plan.sale.increments.highest_not_above(bid) == bid);
    seen.hammers += hammer > 0 ? 1 : 0;
    seen.bids += bid > 0 ? 1 : 0;
    seen.lasts += next ? 0 : 1;
}

void check_cash(const CeilingPlan& plan, const CeilingReport& report, Seen& seen) {
    const Fraction cash = fraction(plan.target.cash_minor.value());
    check_ceiling(plan, report.cash.value(), [&](std::int64_t h) { return cash_needed(plan, h) <= cash; }, seen);
}

void check_target(const CeilingPlan& plan, const CeilingReport& report, Seen& seen) {
    const Fraction wanted = fraction(plan.target.profit_minor.value());
    check_ceiling(
        plan, report.target.value(), [&](std::int64_t h) { return expected_profit(plan, h) >= wanted; }, seen);
}

void check_risk(const CeilingPlan& plan, const CeilingReport& report, Seen& seen) {
    const Fraction accepted = fraction(plan.target.loss_probability.value());
    check_ceiling(plan, report.risk.value(), [&](std::int64_t h) { return chance_of_loss(plan, h) <= accepted; }, seen);
}

constexpr CeilingOptions few{.draws = 256};  // nothing here is simulated

}  // namespace

TEST_CASE("the cash ceiling is the last penny, and its bid the last increment, in exact fractions") {
    RandomPlans random(11);
    Seen seen;
    for (int i = 0; i < 600; ++i) {
        INFO("plan " << i);
        CeilingPlan plan = random.plan();
        plan.target.profit_minor.reset();
        plan.target.loss_probability.reset();
        check_cash(plan, solve_ceiling(plan, few).value(), seen);
    }
    CHECK(seen.hammers > 450);
    CHECK(seen.bids > 400);
    CHECK(seen.lasts > 0);
}

TEST_CASE("a sum that just reaches a price reaches it, a penny less does not") {
    RandomPlans random(12);
    for (int i = 0; i < 200; ++i) {
        INFO("plan " << i);
        CeilingPlan plan = random.plan();
        plan.target = {.cash_minor = 1};
        const std::int64_t hammer = 5'000 * (i + 1);
        // the least whole sum that covers the price and the costs
        const Fraction needed = cash_needed(plan, hammer);
        mpz_class pennies;
        mpz_cdiv_q(pennies.get_mpz_t(), needed.get_num_mpz_t(), needed.get_den_mpz_t());
        plan.target.cash_minor = pennies.get_si();
        CHECK(solve_ceiling(plan, few)->cash->hammer.minor >= hammer);
        plan.target.cash_minor = pennies.get_si() - 1;
        CHECK(solve_ceiling(plan, few)->cash->hammer.minor < hammer);
    }
}

TEST_CASE("the ceiling of the profit wanted is exact wherever the mean is linear") {
    RandomPlans random(13);
    Seen seen;
    for (int i = 0; i < 400; ++i) {
        INFO("plan " << i);
        CeilingPlan plan = random.plan();
        if (plan.selling == Selling::margin_scheme) plan.selling = Selling::untaxed;
        plan.target.loss_probability.reset();
        check_target(plan, solve_ceiling(plan, few).value(), seen);
    }
    CHECK(seen.hammers > 200);
    CHECK(seen.bids > 180);
}

TEST_CASE("a plan in which nothing is uncertain within an outcome is exact in every ceiling and every way of selling") {
    RandomPlans random(14);
    Seen target;
    Seen risk;
    Seen cash;
    for (int i = 0; i < 400; ++i) {
        INFO("plan " << i);
        const CeilingPlan plan = random.certain_plan();
        const CeilingReport report = solve_ceiling(plan, few).value();
        check_target(plan, report, target);
        check_risk(plan, report, risk);
        check_cash(plan, report, cash);
    }
    CHECK(target.hammers > 200);
    CHECK(risk.hammers > 200);
    CHECK(cash.hammers > 300);
}
