// What nobody has seen, made visible in a plan: dearer at worst, and less likely to be the better thing.
#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "case_plan.hpp"
#include "embedded_tables.hpp"
#include "tedge/base/table.hpp"
#include "tedge/base/text.hpp"
#include "tedge/base/wide_integer.hpp"
#include "tedge/money/ceiling_plan.hpp"
#include "tedge/usecases/viewing.hpp"

namespace tedge::usecases {

using nlohmann::json;

namespace {

struct NotSeenRule {
    std::string question;
    std::string treatment;
    Decimal high_factor;
    std::string chances;  // outcomes, conditions, none
    Decimal share;
};

const std::vector<NotSeenRule>& not_seen_rules() {
    static const std::vector<NotSeenRule> rules = [] {
        const Table table = Table::parse(embedded::not_seen_csv).value();
        std::vector<NotSeenRule> made;
        for (std::size_t row = 0; row < table.row_count(); ++row) {
            made.push_back({table.cell(row, "question"), table.cell(row, "treatment"),
                            Decimal::parse(table.cell(row, "high_factor")).value(), table.cell(row, "chances"),
                            Decimal::parse(table.cell(row, "share")).value()});
        }
        return made;
    }();
    return rules;
}

// The rules whose questions nobody could answer, each with the question as it was put.
struct Unseen {
    const NotSeenRule* rule;
    std::string said;  // "lined before (framed)"
};

std::vector<Unseen> unseen_of(const std::vector<Known>& known) {
    std::vector<Unseen> unseen;
    for (const Known& one : known) {
        if (!one.answer.empty() && one.answer != "not-seen") continue;
        const std::string why = one.answer.empty() ? "nobody was asked" : one.why;
        const std::string said = lowered_ascii(one.question.text.substr(0, 1)) + one.question.text.substr(1) +
                                 (why.empty() ? "" : " (" + why + ")");
        for (const NotSeenRule& rule : not_seen_rules()) {
            if (rule.question == one.question.path) unseen.push_back({&rule, said});
        }
    }
    return unseen;
}

// By its act, else by a name that holds the words of the act: "filling and retouching".
bool pays_for(const money::CostLine& cost, std::string_view treatment) {
    if (!cost.treatment.empty()) return cost.treatment == treatment;
    const std::string name = lowered_ascii(cost.name);
    return std::ranges::all_of(split(treatment, '-'),
                               [&](std::string_view word) { return name.find(word) != std::string::npos; });
}

std::string not_seen_sentence(const std::vector<std::string>& said) {
    return "Not seen: " + join(said, "; ") + ".";
}

class PlanWidener {
public:
    PlanWidener(json plan, const money::CeilingPlan& read, std::vector<Unseen> unseen)
        : plan_(std::move(plan)), read_(read), unseen_(std::move(unseen)) {}

    WidenedPlan widened() {
        for (std::size_t i = 0; i < read_.costs.size(); ++i) widen_cost(i);
        note_missing_costs();
        move_chances("outcomes", read_.outcomes, [](const money::Outcome& o) { return o.price_minor.likely; });
        move_chances("conditions", read_.conditions,
                     [](const money::Condition& c) { return c.price_factor.likely.units(); });
        made_.plan = plan_.dump();
        return std::move(made_);
    }

private:
    void widen_cost(std::size_t at);
    void note_missing_costs();
    template <class Item, class Worth>
    void move_chances(const std::string& list, const std::vector<Item>& items, Worth worth);

    json plan_;
    const money::CeilingPlan& read_;
    std::vector<Unseen> unseen_;
    WidenedPlan made_;
};

void PlanWidener::widen_cost(std::size_t at) {
    const money::CostLine& cost = read_.costs[at];
    Decimal factor = Decimal::from_integer(1);
    std::vector<std::string> said;
    for (const Unseen& unseen : unseen_) {
        if (unseen.rule->treatment.empty() || !pays_for(cost, unseen.rule->treatment)) continue;
        factor = std::max(factor, unseen.rule->high_factor);
        said.push_back(unseen.said);
    }
    if (said.empty() || cost.amount_minor.high == 0) return;
    const Currency& currency = read_.currency();
    const auto hundredfold = Decimal::from_units(factor.units() * 100);
    const auto high = percent_of({cost.amount_minor.high, currency}, hundredfold, Rounding::up);
    if (!high) return;  // beyond what is counted: as high as it was
    plan_["costs"][at]["amount"] =
        json::array({decimal_amount({cost.amount_minor.low, currency}),
                     decimal_amount({cost.amount_minor.likely, currency}), decimal_amount(*high)});
    made_.widened.push_back({fmt::format("costs[{}].amount", at), cost.name,
                             to_decimal_text({cost.amount_minor.high, currency}), to_decimal_text(*high),
                             not_seen_sentence(said)});
}

void PlanWidener::note_missing_costs() {
    for (const Unseen& unseen : unseen_) {
        const std::string& treatment = unseen.rule->treatment;
        const bool is_in_plan = treatment.empty() || std::ranges::any_of(read_.costs, [&](const money::CostLine& cost) {
                                    return pays_for(cost, treatment);
                                });
        if (!is_in_plan)
            made_.not_in_plan.push_back(
                fmt::format("Not seen: {}, and the plan holds no cost for {}.", unseen.said, treatment));
    }
}

// Each but the least worth keeps what the shares leave of its chance, the least takes the rest.
template <class Item, class Worth>
void PlanWidener::move_chances(const std::string& list, const std::vector<Item>& items, Worth worth) {
    std::int64_t kept = Decimal::units_per_one;
    std::vector<std::string> said;
    for (const Unseen& unseen : unseen_) {
        if (unseen.rule->chances != list) continue;
        kept = static_cast<std::int64_t>(
            divide_rounded(WideInteger(kept) * (Decimal::units_per_one - unseen.rule->share.units()),
                           Decimal::units_per_one, Rounding::half_away_from_zero));
        said.push_back(unseen.said);
    }
    if (said.empty() || items.size() < 2) return;
    const auto least = static_cast<std::size_t>(std::ranges::min_element(items, {}, worth) - items.begin());
    std::vector<std::int64_t> chances(items.size());
    std::int64_t left = Decimal::units_per_one;
    for (std::size_t i = 0; i < items.size(); ++i) {
        if (i == least) continue;
        chances[i] = static_cast<std::int64_t>(
            divide_rounded(WideInteger(items[i].probability.units()) * kept, Decimal::units_per_one, Rounding::down));
        left -= chances[i];
    }
    chances[least] = left;
    for (std::size_t i = 0; i < items.size(); ++i) {
        const Decimal chance = Decimal::from_units(chances[i]);
        plan_[list][i].erase("remainder");
        plan_[list][i]["probability"] = json::parse(chance.to_text());
        if (chance == items[i].probability) continue;
        made_.widened.push_back({fmt::format("{}[{}].probability", list, i), items[i].name,
                                 items[i].probability.to_text(), chance.to_text(), not_seen_sentence(said)});
    }
}

}  // namespace

Expected<WidenedPlan> widened_plan(std::string_view text, const std::vector<Known>& known) {
    const auto read = money::parse_ceiling_plan(text);
    if (!read) return pass_on(read);
    std::vector<Unseen> unseen = unseen_of(known);
    if (unseen.empty()) return WidenedPlan{.plan = std::string(text)};
    return PlanWidener(json::parse(text), *read, std::move(unseen)).widened();
}

}  // namespace tedge::usecases
