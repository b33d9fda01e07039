#include <fmt/format.h>

#include "plan_parser.hpp"

namespace tedge::money {

Selling PlanParser::selling(const PlanField& root) {
    const PlanField field = read_.member(root, "selling");
    if (!field.is_given()) return Selling::untaxed;
    const std::string word = read_.text(field);
    if (word == "margin-scheme") return Selling::margin_scheme;
    if (word == "ordinary") return Selling::ordinary;
    if (word == "export") return Selling::abroad;
    if (word != "none") {
        read_.refuse("plan.out-of-range", field.path, fmt::format("is \"{}\"", word),
                     "Use margin-scheme, ordinary, export or none.");
    }
    return Selling::untaxed;
}

CostLine PlanParser::cost(const PlanField& field) {
    read_.expect_object(field, {"name", "amount", "treatment"});
    CostLine line{.name = name_of(field)};
    if (const PlanField act = read_.member(field, "treatment"); act.is_given()) line.treatment = read_.text(act);
    if (const PlanField amount = read_.needed(field, "amount"); amount.is_given()) {
        line.amount_minor = read_.amount_estimate(amount, currency_);
    }
    return line;
}

Decimal PlanParser::probability(const PlanField& object, bool only_one) {
    if (only_one) return decimal(read_.member(object, "probability"), Decimal::from_integer(1));
    return decimal(read_.needed(object, "probability"));
}

Estimate<Decimal> PlanParser::factor(const PlanField& object, std::string_view name) {
    return or_default(read_.member(object, name), Estimate<Decimal>::certain(Decimal::from_integer(1)),
                      [&](const PlanField& f) { return read_.decimal_estimate(f); });
}

// What outcomes and a sale as found have in common.
void PlanParser::read_sale_of(const PlanField& field, bool finance, Outcome& outcome) {
    outcome.unsold = decimal(field, "unsold");
    if (const PlanField price = read_.needed(field, "price"); price.is_given()) {
        outcome.price_minor = read_.amount_estimate(price, currency_);
    }
    const PlanField months = finance ? read_.needed(field, "months") : read_.member(field, "months");
    if (months.is_given()) outcome.months = read_.decimal_estimate(months);
}

Outcome PlanParser::outcome(const PlanField& field, bool only_one, bool finance) {
    read_.expect_object(field, {"name", "probability", "remainder", "price", "months", "unsold", "rests_on"});
    Outcome outcome{.name = name_of(field)};
    if (!truth(field, "remainder")) {
        outcome.probability = probability(field, only_one);
    } else if (const PlanField chance = read_.member(field, "probability"); chance.is_given()) {
        read_.refuse("plan.contradiction", chance.path, "is given, but this outcome takes what the others leave",
                     "Leave out the probability or the remainder.");
    }
    read_sale_of(field, finance, outcome);
    return outcome;
}

// One outcome may take what the others leave of 1.
void PlanParser::give_remainder(const PlanField& list, std::vector<Outcome>& outcomes) {
    if (read_.failed() || !list.is_given()) return;
    std::optional<std::size_t> taker;
    std::int64_t left = Decimal::units_per_one;
    for (std::size_t i = 0; i < outcomes.size(); ++i) {
        const PlanField item{&list.value->items[i], fmt::format("{}[{}]", list.path, i)};
        const PlanField remainder = read_.member(item, "remainder");
        if (!remainder.is_given() || !remainder.value->truth) {
            const std::int64_t share = outcomes[i].probability.units();
            if (share >= 0 && share <= Decimal::units_per_one) left -= share;  // else check() names it
        } else if (taker) {
            return read_.refuse("plan.contradiction", remainder.path, "is true, but another outcome takes the rest",
                                "Let one outcome take what is left.");
        } else {
            taker = i;
        }
    }
    if (!taker) return;
    if (left < 0) {
        return read_.refuse("plan.probabilities", list.path, "come to more than 1, nothing remains",
                            "Correct the probabilities.");
    }
    outcomes[*taker].probability = Decimal::from_units(left);
}

AsFound PlanParser::as_found(const PlanField& field, bool finance) {
    read_.expect_object(field, {"price", "months", "unsold", "costs"});
    Outcome sold;
    if (!read_.failed()) read_sale_of(field, finance, sold);
    AsFound found{.price_minor = sold.price_minor, .months = sold.months, .unsold = sold.unsold};
    if (const PlanField costs = read_.member(field, "costs"); costs.is_given()) {
        read_.each(costs, [&](const PlanField& f) { found.costs.push_back(cost(f)); });
    }
    return found;
}

Condition PlanParser::condition(const PlanField& field, bool only_one) {
    read_.expect_object(field, {"name", "probability", "price_factor", "cost_factor"});
    return {.name = name_of(field),
            .probability = probability(field, only_one),
            .price_factor = factor(field, "price_factor"),
            .cost_factor = factor(field, "cost_factor")};
}

Target PlanParser::target(const PlanField& field) {
    if (!field.is_given()) return {};
    read_.expect_object(field, {"profit", "loss_probability", "cash"});
    const PlanField loss = read_.member(field, "loss_probability");
    return {.profit_minor = optional_amount(field, "profit"),
            .loss_probability = loss.is_given() ? std::optional(read_.decimal(loss)) : std::nullopt,
            .cash_minor = optional_amount(field, "cash")};
}

Bidders PlanParser::bidders(const PlanField& field) {
    if (!field.is_given()) return {};
    read_.expect_object(field, {"serious", "signal_error"});
    return {.serious = decimal(read_.needed(field, "serious")),
            .signal_error = decimal(read_.needed(field, "signal_error"))};
}

namespace {

// Calls `visit` for each item of a list that may be left out; tells whether it is the only one.
void each_of(PlanReader& read, const PlanField& list, auto visit) {
    if (!list.is_given()) return;
    const bool only_one = list.value->items.size() == 1;
    read.each(list, [&](const PlanField& item) { visit(item, only_one); });
}

}  // namespace

CeilingPlan PlanParser::plan(const PlanField& root) {
    CeilingPlan plan{.sale = SaleTerms{.currency = currency_}};
    const PlanField terms = read_.needed(root, "sale");
    PlanParser of_sale(read_, currency_);
    if (terms.is_given()) plan.exchange = of_sale.exchange(terms);
    plan.sale = of_sale.sale(terms);
    plan.selling = selling(root);
    plan.purchase_vat_recovered = truth(root, "purchase_vat_recovered");
    const bool taxed = plan.selling == Selling::margin_scheme || plan.selling == Selling::ordinary;
    plan.vat_percent = decimal(taxed ? read_.needed(root, "vat_percent") : read_.member(root, "vat_percent"));
    plan.unsold_recovers = decimal(read_.member(root, "unsold_recovers"), plan.unsold_recovers);
    plan.selling_commission_percent = decimal(root, "selling_commission_percent");
    plan.finance_percent_a_year = decimal(root, "finance_percent_a_year");
    const bool finance = plan.finance_percent_a_year != Decimal{};
    each_of(read_, read_.member(root, "costs"), [&](const PlanField& f, bool) { plan.costs.push_back(cost(f)); });
    each_of(read_, read_.needed(root, "outcomes"),
            [&](const PlanField& f, bool one) { plan.outcomes.push_back(outcome(f, one, finance)); });
    give_remainder(read_.member(root, "outcomes"), plan.outcomes);
    each_of(read_, read_.member(root, "conditions"),
            [&](const PlanField& f, bool one) { plan.conditions.push_back(condition(f, one)); });
    plan.target = target(read_.member(root, "target"));
    plan.bidders = bidders(read_.member(root, "bidders"));
    if (const PlanField found = read_.member(root, "as_found"); found.is_given()) {
        plan.as_found = as_found(found, finance);
    }
    return plan;
}

Expected<CeilingPlan> parse_ceiling_plan(std::string_view json) {
    const auto tree = parse_json_text(json);
    if (!tree) return pass_on(tree);
    PlanReader read;
    const PlanField root{&*tree, ""};
    read.expect_object(root, {"currency", "sale", "selling", "purchase_vat_recovered", "vat_percent", "costs",
                              "outcomes", "conditions", "unsold_recovers", "selling_commission_percent",
                              "finance_percent_a_year", "target", "bidders", "as_found"});
    const auto currency = currency_of(read, root);
    if (!currency) return pass_on(currency);
    CeilingPlan plan = PlanParser(read, *currency).plan(root);
    if (read.failed()) return std::unexpected(read.problem());
    if (const auto sound = check(plan); !sound) return pass_on(sound);
    return plan;
}

}  // namespace tedge::money
