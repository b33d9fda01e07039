#include "tedge/usecases/costs.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "hours_table.hpp"
#include "tedge/base/text.hpp"

namespace tedge::usecases {

using casebook::CaseSnapshot;
using casebook::Record;

namespace {

constexpr double share_where_not_drawn = 0.05;  // of the face, where it is known of but not drawn: own judgement
constexpr double mm2_in_m2 = 1e6;

double area_drawn_m2(const CaseSnapshot& snapshot, const auto& counts) {
    double area = 0.0;
    for (const Record* finding : snapshot.of_kind("finding")) {
        const auto region = finding->body.region("region");
        if (region && counts(*finding)) area += region->area_mm2() / mm2_in_m2;
    }
    return area;
}

double loose_paint_m2(const CaseSnapshot& snapshot) {
    return area_drawn_m2(snapshot, [](const Record& finding) {
        return finding.body.flag("unstable") && !finding.body.has("consolidated_on");
    });
}

double losses_m2(const CaseSnapshot& snapshot) {
    constexpr std::array words{"loss", "tear", "hole", "lacuna", "abrasion"};
    return area_drawn_m2(snapshot, [&](const Record& finding) {
        const std::string term = lowered_ascii(finding.body.text_or("term"));
        return std::ranges::any_of(words, [&](const char* word) { return term.find(word) != std::string::npos; });
    });
}

Needed needed_by(const HoursRule& rule, const std::vector<Known>& known, std::vector<std::string>& said) {
    if (rule.needed_if_yes.empty()) return Needed::yes;
    Needed needed = Needed::no;
    for (const Known& one : known) {
        if (std::ranges::find(rule.needed_if_yes, one.question.path) == rule.needed_if_yes.end()) continue;
        const std::string text = lowered_ascii(one.question.text.substr(0, 1)) + one.question.text.substr(1);
        if (one.answer == "yes") {
            needed = Needed::yes;
            said.push_back(text + ": yes");
        } else if (one.answer != "no" && needed != Needed::yes) {
            needed = Needed::unknown;
            said.push_back(text + ": not seen");
        }
    }
    return needed;
}

struct Quantity {
    double of = 0.0;
    std::string said;
};

Quantity quantity_of(const HoursRule& rule, const CaseSnapshot& snapshot, const FaceMeasures& face) {
    if (rule.of == "perimeter") return {face.perimeter_m, fmt::format("{:.2f} m of perimeter", face.perimeter_m)};
    if (rule.of == "face") return {face.area_m2, fmt::format("{:.3f} m2 of face", face.area_m2)};
    const double drawn = rule.of == "losses" ? losses_m2(snapshot) : loose_paint_m2(snapshot);
    if (drawn > 0.0) return {drawn, fmt::format("{:.4f} m2 of {}, as drawn", drawn, rule.of)};
    const double guessed = share_where_not_drawn * face.area_m2;
    return {guessed, fmt::format("{:.4f} m2 of {}, a twentieth of the face because none is drawn", guessed, rule.of)};
}

// Whole hours of the low, likely and high sort at the low, likely and high rate, with the materials.
std::array<double, 3> by_hours(const HoursRule& rule, double quantity, const HourlyRate& rate) {
    const double with_materials = 1.0 + rule.materials_percent / 100.0;
    const auto cost = [&](double hours, std::int64_t minor) {
        return (rule.base_hours + hours * quantity) * static_cast<double>(minor) * with_materials;
    };
    return {cost(rule.hours.low, rate.minor.low), cost(rule.hours.likely, rate.minor.likely),
            cost(rule.hours.high, rate.minor.high)};
}

const PricedAct* own_price(const std::vector<PricedAct>& prices, const HoursRule& rule, const Currency& currency) {
    const auto found = std::ranges::find_if(prices, [&](const PricedAct& priced) {
        return priced.treatment == rule.treatment && priced.measure == rule.measure && priced.currency == currency &&
               priced.cases >= cases_for_a_price;
    });
    return found == prices.end() ? nullptr : &*found;
}

Expected<SuggestedCost> suggestion(const HoursRule& rule, const CaseSnapshot& snapshot, const FaceMeasures& face,
                                   const std::vector<Known>& known, const HourlyRate& rate,
                                   const std::vector<PricedAct>& own_prices) {
    std::vector<std::string> said;
    const Quantity quantity = quantity_of(rule, snapshot, face);
    SuggestedCost cost{.treatment = rule.treatment,
                       .name = rule.name,
                       .measure = rule.measure,
                       .quantity = quantity.of,
                       .needed = needed_by(rule, known, said),
                       .because = {},
                       .source = {}};
    // What is drawn is there, whatever a viewer by telephone answered.
    const bool is_drawn = (rule.of == "losses" && losses_m2(snapshot) > 0.0) ||
                          (rule.of == "loose paint" && loose_paint_m2(snapshot) > 0.0);
    if (is_drawn) cost.needed = Needed::yes;
    std::array<double, 3> minor = by_hours(rule, quantity.of, rate);
    cost.source = "table of hours, own judgement from memory";
    if (const PricedAct* own = own_price(own_prices, rule, rate.currency)) {
        const auto& unit = own->unit_price_minor;
        minor = {quantity.of * static_cast<double>(unit.low), quantity.of * static_cast<double>(unit.likely),
                 quantity.of * static_cast<double>(unit.high)};
        cost.source = fmt::format("own price book, {}", counted(own->cases, "cost", "costs"));
    }
    if (cost.needed == Needed::unknown) minor[0] = 0.0;
    if (cost.needed == Needed::no) minor = {0.0, 0.0, 0.0};
    const auto amounts = counted_amounts(minor);
    if (!amounts) return pass_on(amounts);
    cost.amount_minor = *amounts;
    cost.because = quantity.said + (said.empty() ? "." : "; " + join(said, ", ") + ".");
    return cost;
}

}  // namespace

std::string_view to_text(Needed needed) {
    constexpr std::array<std::string_view, 3> words{"yes", "unknown", "no"};
    return words.at(static_cast<std::size_t>(needed));
}

Expected<std::vector<SuggestedCost>> suggest_costs(const CaseSnapshot& snapshot, const HourlyRate& rate,
                                                   const std::vector<PricedAct>& own_prices) {
    if (rate.minor.low < 0 || !rate.minor.in_order()) {
        return fail("costs.rate", "What an hour costs has to run from low through likely to high, none below nothing.",
                    "Give three amounts, or one.", {{"field", "rate"}});
    }
    const auto face = measures_of(snapshot.picture);
    if (!face) {
        return fail("costs.no-size", "Nobody has measured this picture, and what work costs goes by its size.",
                    "Record its height and width; the catalogue's will do for now.");
    }
    const std::vector<Known> known = what_was_seen(snapshot);
    std::vector<SuggestedCost> suggested;
    for (const HoursRule& rule : hours_rules()) {
        auto cost = suggestion(rule, snapshot, *face, known, rate, own_prices);
        if (!cost) return pass_on(cost);
        suggested.push_back(*std::move(cost));
    }
    return suggested;
}

Expected<std::vector<Done>> record_suggested(const Acting& acting, const Uuid& case_id,
                                             const std::vector<SuggestedCost>& suggested, const Currency& currency) {
    return acting.book.in_one_act([&]() -> Expected<std::vector<Done>> {
        const auto snapshot = acting.book.snapshot(case_id);
        if (!snapshot) return pass_on(snapshot);
        std::vector<Done> written;
        for (const SuggestedCost& cost : suggested) {
            const auto is_there = [&](const Record* record) {
                return record->body.text_or("treatment") == cost.treatment;
            };
            if (cost.needed == Needed::no || std::ranges::any_of(snapshot->of_kind("cost_line"), is_there)) continue;
            casebook::FieldValues values;
            values.text("name", cost.name)
                .text("treatment", cost.treatment)
                .number("quantity", cost.quantity)
                .text("measure", cost.measure)
                .money_estimate("estimate", cost.amount_minor, currency)
                .text("note", cost.because + " By the " + cost.source + ".");
            auto done = add_record(acting, case_id, "cost_line", values);
            if (!done) return pass_on(done);
            written.push_back(*std::move(done));
        }
        return written;
    });
}

}  // namespace tedge::usecases
