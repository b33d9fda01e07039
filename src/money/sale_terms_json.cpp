// The sale of a plan: terms, increments, currency and rate, ways to bid.
#include <fmt/format.h>

#include "plan_parser.hpp"
#include "tedge/base/clock.hpp"

namespace tedge::money {

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
                                "export_within_days",
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

Expected<Currency> currency_of(PlanReader& read, const PlanField& root) {
    const PlanField field = read.needed(root, "currency");
    const std::string code = field.is_given() ? read.text(field) : std::string();
    if (read.failed()) return std::unexpected(read.problem());
    const auto currency = Currency::parse(code);
    if (!currency) read.refuse(field.path, currency.error());
    return read.failed() ? Expected<Currency>(std::unexpected(read.problem())) : currency;
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
