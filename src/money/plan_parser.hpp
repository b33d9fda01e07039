// The JSON form of a plan, field by field: one parser for one currency. The sale has one of its own.
#pragma once

#include "plan_reader.hpp"
#include "tedge/money/ceiling_plan.hpp"
#include "tedge/money/sale_presets.hpp"

namespace tedge::money {

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

// "currency" of the whole. Errors: money.unknown-currency, plan.missing-field.
[[nodiscard]] Expected<Currency> currency_of(PlanReader& read, const PlanField& root);

}  // namespace tedge::money
