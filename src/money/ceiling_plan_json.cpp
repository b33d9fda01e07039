#include <fmt/format.h>

#include "plan_reader.hpp"
#include "tedge/base/clock.hpp"
#include "tedge/money/ceiling_plan.hpp"
#include "tedge/money/sale_presets.hpp"

namespace tedge::money {

namespace {

template <class T>
[[nodiscard]] T or_default(const PlanField& field, T otherwise, auto read) {
    return field.is_given() ? read(field) : std::move(otherwise);
}

class PlanParser {
public:
    explicit PlanParser(PlanReader& reader, Currency currency) : read_(reader), currency_(currency) {}

    // From now on in the sale's own currency; what stands in the plan's for one of it.
    std::optional<Exchange> exchange(const PlanField& sale);
    SaleTerms sale(const PlanField& field);
    std::vector<BiddingRoute> routes(const PlanField& sale);
    CeilingPlan plan(const PlanField& root);

private:
    PremiumBand band(const PlanField& field);
    Increments increments(const PlanField& field);
    IncrementRule rule(const PlanField& field, std::int64_t end_before);
    Increments bids_or_rules(const PlanField& field);
    std::optional<RoyaltyRules> royalty(const PlanField& sale);
    Selling selling(const PlanField& root);
    CostLine cost(const PlanField& field);
    Outcome outcome(const PlanField& field, bool only_one, bool finance);
    void read_sale_of(const PlanField& field, bool finance, Outcome& outcome);
    AsFound as_found(const PlanField& field, bool finance);
    void give_remainder(const PlanField& list, std::vector<Outcome>& outcomes);
    Condition condition(const PlanField& field, bool only_one);
    Target target(const PlanField& field);
    Bidders bidders(const PlanField& field);

    Decimal decimal(const PlanField& field, Decimal otherwise = {}) {
        return or_default(field, otherwise, [&](const PlanField& f) { return read_.decimal(f); });
    }
    Decimal decimal(const PlanField& object, std::string_view name) { return decimal(read_.member(object, name)); }
    std::int64_t amount(const PlanField& object, std::string_view name) {
        return or_default(read_.member(object, name), std::int64_t{0},
                          [&](const PlanField& f) { return read_.amount(f, currency_); });
    }
    std::optional<std::int64_t> optional_amount(const PlanField& object, std::string_view name) {
        const PlanField field = read_.member(object, name);
        return field.is_given() ? std::optional(read_.amount(field, currency_)) : std::nullopt;
    }
    bool truth(const PlanField& object, std::string_view name) {
        return or_default(read_.member(object, name), false, [&](const PlanField& f) { return read_.truth(f); });
    }
    std::string name_of(const PlanField& object) {
        return or_default(read_.member(object, "name"), std::string(),
                          [&](const PlanField& f) { return read_.text(f); });
    }
    Decimal probability(const PlanField& object, bool only_one);
    Estimate<Decimal> factor(const PlanField& object, std::string_view name);

    PlanReader& read_;
    Currency currency_;
};

PremiumBand PlanParser::band(const PlanField& field) {
    read_.expect_object(field, {"up_to", "percent"});
    return {optional_amount(field, "up_to"), decimal(read_.needed(field, "percent"))};
}

// {"from": 300, "to": 500, "endings": [0, 20, 50, 80], "of": 100} or {"up_to": 200, "step": 10}
IncrementRule PlanParser::rule(const PlanField& field, std::int64_t end_before) {
    read_.expect_object(field, {"from", "to", "up_to", "step", "endings", "of"});
    IncrementRule rule{.from_minor = optional_amount(field, "from").value_or(end_before),
                       .to_minor = optional_amount(field, "to"),
                       .step_minor = amount(field, "step"),
                       .within_minor = amount(field, "of")};
    if (!rule.to_minor) rule.to_minor = optional_amount(field, "up_to");
    if (const PlanField endings = read_.member(field, "endings"); endings.is_given()) {
        read_.each(endings, [&](const PlanField& e) { rule.endings_minor.push_back(read_.amount(e, currency_)); });
    }
    if (rule.within_minor == 0 && !rule.endings_minor.empty()) {  // the next power of ten above the greatest ending
        rule.within_minor = currency_.minor_per_major();
        const std::int64_t greatest = rule.endings_minor.back();
        while (rule.within_minor <= greatest && rule.within_minor < 1'000'000'000'000) rule.within_minor *= 10;
    }
    return rule;
}

Increments PlanParser::bids_or_rules(const PlanField& field) {
    std::vector<std::int64_t> bids;
    std::vector<IncrementRule> rules;
    read_.each(field, [&](const PlanField& item) {
        if (item.value->kind == JsonText::Kind::object) {
            const std::int64_t end_before = rules.empty() ? 0 : rules.back().to_minor.value_or(0);
            rules.push_back(rule(item, end_before));
        } else {
            bids.push_back(read_.amount(item, currency_));
        }
    });
    if (!bids.empty() && !rules.empty()) read_.refuse("plan.wrong-kind", field.path, "mixes bids and rules");
    if (read_.failed()) return {};
    const auto made = rules.empty() ? Increments::from_bids(std::move(bids)) : Increments::from_rules(std::move(rules));
    if (!made) read_.refuse(field.path, made.error());
    return made.value_or(Increments());
}

Increments PlanParser::increments(const PlanField& field) {
    if (!field.is_given() || read_.failed()) return {};
    if (field.value->kind == JsonText::Kind::array) return bids_or_rules(field);
    const auto named = Increments::named(read_.text(field), currency_);
    if (!named) read_.refuse(field.path, named.error());
    return named.value_or(Increments());
}

// By the rules of the day of the sale where `date` says it, else by those that hold now.
std::optional<RoyaltyRules> PlanParser::royalty(const PlanField& sale) {
    const PlanField date = read_.member(sale, "date");
    auto rules = Expected<RoyaltyRules>(current_royalty_rules());
    if (date.is_given()) {
        const auto day = parse_date(read_.text(date));
        if (!day) {
            read_.refuse(date.path, day.error());
        } else if (truth(sale, "royalty")) {
            rules = royalty_rules_on(*day);
            if (!rules) read_.refuse(date.path, rules.error());
        }
    }
    return truth(sale, "royalty") && rules ? std::optional(*rules) : std::nullopt;
}

// A sale abroad prints its fees in its own currency; without a rate nobody converts them here.
std::optional<Exchange> PlanParser::exchange(const PlanField& sale) {
    if (read_.failed()) return std::nullopt;
    const PlanField rate = read_.member(sale, "rate");
    const PlanField of_sale = read_.member(sale, "currency");
    const Currency into = currency_;
    if (of_sale.is_given()) {
        const auto said = Currency::parse(read_.text(of_sale));
        if (!said) {
            read_.refuse(of_sale.path, said.error());
        } else if (*said != currency_ && !rate.is_given()) {
            read_.refuse("money.mixed-currencies", of_sale.path,
                         fmt::format("is {}, the plan's own is {}", said->code(), currency_.code()),
                         fmt::format("Reckon in {}, the currency of the sale, or give its rate.", said->code()));
        } else {
            currency_ = *said;
        }
    }
    if (!rate.is_given()) return std::nullopt;
    return Exchange{into, read_.decimal(rate), decimal(sale, "rate_margin_percent")};
}

SaleTerms PlanParser::sale(const PlanField& field) {
    SaleTerms terms{.currency = currency_};
    if (read_.failed()) return terms;
    read_.expect_object(field, {"currency",
                                "premium",
                                "premium_includes_vat",
                                "minimum_premium",
                                "vat_on_premium_percent",
                                "vat_on_hammer_percent",
                                "surcharge_percent",
                                "surcharge_vat_percent",
                                "fixed_fees",
                                "royalty",
                                "increments",
                                "date",
                                "rate",
                                "rate_margin_percent",
                                "routes",
                                "deposit",
                                "register_by",
                                "approval_by",
                                "pay_within_days",
                                "collect_within_days",
                                "storage_free_days",
                                "storage_a_week",
                                "risk_passes",
                                "title_passes",
                                "return_window_days",
                                "valid_from",
                                "valid_to"});
    if (const PlanField premium = read_.member(field, "premium"); premium.is_given()) {
        read_.each(premium, [&](const PlanField& item) { terms.premium.push_back(band(item)); });
    }
    terms.premium_includes_vat = truth(field, "premium_includes_vat");
    terms.minimum_premium_minor = amount(field, "minimum_premium");
    terms.vat_on_premium_percent = decimal(field, "vat_on_premium_percent");
    terms.vat_on_hammer_percent = decimal(field, "vat_on_hammer_percent");
    terms.surcharge_percent = decimal(field, "surcharge_percent");
    terms.surcharge_vat_percent = decimal(field, "surcharge_vat_percent");
    terms.fixed_fees_minor = amount(field, "fixed_fees");
    terms.royalty = royalty(field);
    terms.increments = increments(read_.member(field, "increments"));
    static_cast<void>(routes(field));  // not part of a price, but wrong ones are named
    return terms;
}

std::vector<BiddingRoute> PlanParser::routes(const PlanField& sale) {
    std::vector<BiddingRoute> routes;
    const PlanField list = read_.member(sale, "routes");
    if (!list.is_given()) return routes;
    read_.each(list, [&](const PlanField& item) {
        read_.expect_object(item, {"name", "surcharge_percent", "surcharge_vat_percent"});
        const PlanField name = read_.needed(item, "name");
        BiddingRoute route{.surcharge_percent = decimal(item, "surcharge_percent"),
                           .surcharge_vat_percent = decimal(item, "surcharge_vat_percent"),
                           .status = "as the plan has it",
                           .source = "the plan"};
        if (name.is_given()) route.name = read_.text(name);
        route.label = route.name;
        routes.push_back(std::move(route));
    });
    return routes;
}

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

// Calls `visit` for each item of a list that may be left out; tells whether it is the only one.
void each_of(PlanReader& read, const PlanField& list, auto visit) {
    if (!list.is_given()) return;
    const bool only_one = list.value->items.size() == 1;
    read.each(list, [&](const PlanField& item) { visit(item, only_one); });
}

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

Expected<Currency> currency_of(PlanReader& read, const PlanField& root) {
    const PlanField field = read.needed(root, "currency");
    const std::string code = field.is_given() ? read.text(field) : std::string();
    if (read.failed()) return std::unexpected(read.problem());
    const auto currency = Currency::parse(code);
    if (!currency) read.refuse(field.path, currency.error());
    return read.failed() ? Expected<Currency>(std::unexpected(read.problem())) : currency;
}

}  // namespace

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

Expected<SaleTerms> parse_sale_terms(std::string_view json) {
    const auto tree = parse_json_text(json);
    if (!tree) return pass_on(tree);
    PlanReader read;
    const PlanField root{&*tree, ""};
    const auto currency = currency_of(read, root);
    if (!currency) return pass_on(currency);
    PlanParser of_sale(read, *currency);
    const PlanField field = read.needed(root, "sale");
    if (field.is_given()) static_cast<void>(of_sale.exchange(field));  // an invoice is in the currency of the sale
    SaleTerms terms = of_sale.sale(field);
    if (read.failed()) return std::unexpected(read.problem());
    if (const auto sound = check(terms); !sound) return pass_on(sound);
    return terms;
}

Expected<std::vector<BiddingRoute>> parse_bidding_routes(std::string_view json) {
    if (const auto terms = parse_sale_terms(json); !terms) return pass_on(terms);
    const auto tree = parse_json_text(json);
    if (!tree) return pass_on(tree);
    PlanReader read;
    const PlanField root{&*tree, ""};
    const auto currency = currency_of(read, root);
    if (!currency) return pass_on(currency);
    auto routes = PlanParser(read, *currency).routes(read.member(root, "sale"));
    if (read.failed()) return std::unexpected(read.problem());
    return routes;
}

}  // namespace tedge::money
