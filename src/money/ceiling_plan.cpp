#include "tedge/money/ceiling_plan.hpp"

#include <fmt/format.h>

#include <numeric>

#include "money_range.hpp"
#include "tedge/base/wide_integer.hpp"

namespace tedge::money {

namespace {

constexpr std::size_t longest_list = 60;
constexpr Decimal one = Decimal::from_integer(1);
constexpr std::int64_t probability_tolerance = 1'000;  // 1e-6, in units of 1e-9

std::unexpected<Error> refused(std::string code, std::string field, std::string reason) {
    return fail(std::move(code), fmt::format("The plan cannot be used: {} {}.", field, reason),
                "Mend that field of the plan.", {{"field", field}, {"reason", reason}});
}

Expected<void> check_between(std::string field, Decimal value, Decimal least, Decimal most) {
    if (value < least) {
        return least == Decimal{} ? refused("plan.negative", std::move(field), "is negative")
                                  : refused("plan.out-of-range", std::move(field), "is too small");
    }
    if (value <= most) return {};
    return refused("plan.out-of-range", std::move(field), fmt::format("is more than {}", most.to_text()));
}

template <class T>
Expected<void> check_estimate(const std::string& field, const Estimate<T>& estimate, T most) {
    if (estimate.low < T{}) return refused("plan.negative", field, "is negative");
    if (!estimate.in_order()) {
        return refused("plan.not-in-order", field, "does not run from low through likely to high");
    }
    if (estimate.high > most) return refused("plan.out-of-range", field, "is too large");
    return {};
}

// The first of several checks that fails.
Expected<void> first_fault(std::initializer_list<Expected<void>> checks) {
    for (const auto& check : checks) {
        if (!check) return check;
    }
    return {};
}

template <class Item>
Expected<void> check_list(std::string field, const std::vector<Item>& items) {
    if (items.size() > longest_list) {
        return refused("plan.too-long", std::move(field), fmt::format("has more than {} entries", longest_list));
    }
    return {};
}

template <class Item>
Expected<void> check_probabilities(const std::string& field, const std::vector<Item>& items) {
    WideInteger sum = 0;
    for (std::size_t i = 0; i < items.size(); ++i) {
        const auto share =
            check_between(fmt::format("{}[{}].probability", field, i), items[i].probability, Decimal{}, one);
        if (!share) return share;
        sum += items[i].probability.units();
    }
    const auto units = static_cast<std::int64_t>(sum);
    if (units >= one.units() - probability_tolerance && units <= one.units() + probability_tolerance) return {};
    const std::string text = Decimal::from_units(units).to_text();
    return fail("plan.probabilities", fmt::format("The probabilities of the {} add up to {}, not to 1.", field, text),
                "Correct the probabilities.",
                {{"field", field}, {"reason", fmt::format("probabilities add up to {}", text)}, {"sum", text}});
}

constexpr Decimal most_months = Decimal::from_units(1'200 * Decimal::units_per_one);
constexpr Decimal largest_factor = Decimal::from_units(100 * Decimal::units_per_one);
constexpr Decimal hundred = Decimal::from_units(100 * Decimal::units_per_one);
constexpr Decimal million = Decimal::from_units(1'000'000 * Decimal::units_per_one);
constexpr Decimal thousand = Decimal::from_units(1'000 * Decimal::units_per_one);

Expected<void> check_outcomes(const CeilingPlan& plan) {
    if (plan.outcomes.empty()) return refused("plan.no-outcomes", "outcomes", "is empty");
    for (std::size_t i = 0; i < plan.outcomes.size(); ++i) {
        const Outcome& outcome = plan.outcomes[i];
        const std::string field = fmt::format("outcomes[{}]", i);
        const auto sound = first_fault({check_estimate(field + ".price", outcome.price_minor, largest_minor),
                                        check_estimate(field + ".months", outcome.months, most_months),
                                        check_between(field + ".unsold", outcome.unsold, Decimal{}, one)});
        if (!sound) return sound;
    }
    return check_probabilities("outcomes", plan.outcomes);
}

Expected<void> check_conditions(const CeilingPlan& plan) {
    for (std::size_t i = 0; i < plan.conditions.size(); ++i) {
        const Condition& condition = plan.conditions[i];
        const std::string field = fmt::format("conditions[{}]", i);
        const auto sound = first_fault({check_estimate(field + ".price_factor", condition.price_factor, largest_factor),
                                        check_estimate(field + ".cost_factor", condition.cost_factor, largest_factor)});
        if (!sound) return sound;
    }
    return plan.conditions.empty() ? Expected<void>() : check_probabilities("conditions", plan.conditions);
}

Expected<void> check_costs(const CeilingPlan& plan) {
    for (std::size_t i = 0; i < plan.costs.size(); ++i) {
        const auto sound =
            check_estimate(fmt::format("costs[{}].amount", i), plan.costs[i].amount_minor, largest_minor);
        if (!sound) return sound;
    }
    return {};
}

Expected<void> check_exchange(const CeilingPlan& plan) {
    if (!plan.exchange) return {};
    if (plan.exchange->into == plan.sale.currency) {
        return refused("plan.contradiction", "sale.rate", "is given, but the sale is in the plan's own currency");
    }
    if (plan.exchange->rate == Decimal{}) {
        return refused("plan.out-of-range", "sale.rate", "is 0, as if nothing had to be paid");
    }
    return first_fault({check_between("sale.rate", plan.exchange->rate, Decimal{}, million),
                        check_between("sale.rate_margin_percent", plan.exchange->margin_percent, Decimal{}, hundred)});
}

Expected<void> check_as_found(const CeilingPlan& plan) {
    if (!plan.as_found) return {};
    auto sound = first_fault({check_list("as_found.costs", plan.as_found->costs),
                              check_estimate("as_found.price", plan.as_found->price_minor, largest_minor),
                              check_estimate("as_found.months", plan.as_found->months, most_months),
                              check_between("as_found.unsold", plan.as_found->unsold, Decimal{}, one)});
    for (std::size_t i = 0; sound && i < plan.as_found->costs.size(); ++i) {
        sound = check_estimate(fmt::format("as_found.costs[{}].amount", i), plan.as_found->costs[i].amount_minor,
                               largest_minor);
    }
    return sound;
}

Expected<void> check_target(const Target& target) {
    if (target.loss_probability) {
        const auto sound = check_between("target.loss_probability", *target.loss_probability, Decimal{}, one);
        if (!sound) return sound;
    }
    if (target.cash_minor.value_or(0) < 0) return refused("plan.negative", "target.cash", "is negative");
    return {};
}

Expected<void> check_bidders(const Bidders& bidders) {
    if (bidders.serious.units() % Decimal::units_per_one != 0) {
        return refused("plan.out-of-range", "bidders.serious", "is not a whole number");
    }
    return first_fault({check_between("bidders.serious", bidders.serious, Decimal{}, thousand),
                        check_between("bidders.signal_error", bidders.signal_error, Decimal{}, one)});
}

// Something of each pound of the price must be left: 1 − c > r/(100 + r), that is (100 − c)(100 + r) > 100 r.
bool something_is_left(const CeilingPlan& plan) {
    const bool taxed = plan.selling == Selling::margin_scheme || plan.selling == Selling::ordinary;
    const WideInteger whole = hundred.units();
    const WideInteger rate = taxed ? plan.vat_percent.units() : 0;
    return (whole - plan.selling_commission_percent.units()) * (whole + rate) > whole * rate;
}

Expected<void> check_selling(const CeilingPlan& plan) {
    const auto sound =
        first_fault({check_between("vat_percent", plan.vat_percent, Decimal{}, hundred),
                     check_between("selling_commission_percent", plan.selling_commission_percent, Decimal{}, hundred),
                     check_between("finance_percent_a_year", plan.finance_percent_a_year, Decimal{}, thousand),
                     check_between("unsold_recovers", plan.unsold_recovers, Decimal{}, one)});
    if (!sound) return sound;
    if (!something_is_left(plan)) {
        return refused("plan.out-of-range", "selling_commission_percent", "and the VAT together take the whole price");
    }
    if (plan.purchase_vat_recovered && plan.selling != Selling::abroad && plan.selling != Selling::ordinary) {
        return refused("plan.contradiction", "purchase_vat_recovered",
                       "is true, but nothing is recovered on a purchase that is sold in this way");
    }
    return {};
}

// A fault of the terms, with the place where the terms stand in a plan.
Expected<void> check_sale(const SaleTerms& sale) {
    auto sound = check(sale);
    if (!sound) sound.error().values["field"] = "sale." + sound.error().values["field"];
    return sound;
}

}  // namespace

Expected<void> check(const CeilingPlan& plan) {
    return first_fault({check_list("costs", plan.costs), check_list("outcomes", plan.outcomes),
                        check_list("conditions", plan.conditions), check_sale(plan.sale), check_selling(plan),
                        check_costs(plan), check_outcomes(plan), check_conditions(plan), check_target(plan.target),
                        check_bidders(plan.bidders), check_as_found(plan), check_exchange(plan)});
}

std::optional<CeilingPlan> as_found_plan(const CeilingPlan& plan) {
    if (!plan.as_found) return std::nullopt;
    CeilingPlan untouched = plan;
    untouched.costs = plan.as_found->costs;
    untouched.outcomes = {Outcome{.name = "as found",
                                  .price_minor = plan.as_found->price_minor,
                                  .months = plan.as_found->months,
                                  .unsold = plan.as_found->unsold}};
    untouched.conditions.clear();
    untouched.as_found.reset();
    return untouched;
}

}  // namespace tedge::money
