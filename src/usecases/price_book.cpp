// What acts came to in past cases.
#include <algorithm>
#include <map>
#include <tuple>

#include "hours_table.hpp"
#include "tedge/usecases/costs.hpp"

namespace tedge::usecases {

using casebook::CaseSnapshot;
using casebook::Record;

namespace {

struct PastCost {
    double unit_price = 0.0;
    std::optional<double> ratio{};
};

double middle_of(std::vector<double> values) {
    std::ranges::sort(values);
    const std::size_t half = values.size() / 2;
    return values.size() % 2 == 1 ? values[half] : 0.5 * (values[half - 1] + values[half]);
}

// In the measure of the table where the cost itself does not say.
std::optional<std::pair<std::string, double>> priced_quantity(const Record& cost,
                                                              const std::optional<FaceMeasures>& face) {
    const std::string treatment = cost.body.text_or("treatment");
    if (const auto quantity = cost.body.number("quantity"); quantity && *quantity > 0.0 && cost.body.has("measure")) {
        return std::pair(cost.body.text_or("measure"), *quantity);
    }
    const auto rule = std::ranges::find(hours_rules(), treatment, &HoursRule::treatment);
    if (rule == hours_rules().end()) return std::pair(std::string("piece"), 1.0);
    if (!face || (rule->of != "face" && rule->of != "perimeter")) return std::nullopt;
    return std::pair(rule->measure, rule->of == "face" ? face->area_m2 : face->perimeter_m);
}

}  // namespace

Expected<std::vector<PricedAct>> price_book(casebook::Casebook& book, const std::optional<Uuid>& left_out) {
    casebook::KindsWanted wanted;
    wanted.all_of = {"cost_line"};
    const auto snapshots = book.snapshots(wanted);
    if (!snapshots) return pass_on(snapshots);
    std::map<std::tuple<std::string, std::string, std::string>, std::vector<PastCost>> past;
    for (const CaseSnapshot& snapshot : *snapshots) {
        if (left_out && snapshot.picture.id == *left_out) continue;
        const auto face = measures_of(snapshot.picture);
        for (const Record* cost : snapshot.of_kind("cost_line")) {
            const auto actual = cost->body.money("actual");
            const std::string treatment = cost->body.text_or("treatment");
            const auto quantity = priced_quantity(*cost, face);
            if (!actual || treatment.empty() || !quantity) continue;
            PastCost one{static_cast<double>(actual->minor) / quantity->second, std::nullopt};
            const auto estimate = cost->body.money_estimate("estimate");
            if (estimate && estimate->currency == actual->currency && estimate->minor.likely > 0) {
                one.ratio = static_cast<double>(actual->minor) / static_cast<double>(estimate->minor.likely);
            }
            past[{treatment, quantity->first, std::string(actual->currency.code())}].push_back(one);
        }
    }
    std::vector<PricedAct> prices;
    for (const auto& [key, costs] : past) {
        std::vector<double> units;
        std::vector<double> ratios;
        for (const PastCost& one : costs) {
            units.push_back(one.unit_price);
            if (one.ratio) ratios.push_back(*one.ratio);
        }
        const auto amounts = counted_amounts({std::ranges::min(units), middle_of(units), std::ranges::max(units)});
        if (!amounts) return pass_on(amounts);
        PricedAct priced{std::get<0>(key), std::get<1>(key), Currency::parse(std::get<2>(key)).value(),
                         costs.size(),     *amounts,         std::nullopt};
        if (!ratios.empty()) priced.actual_to_likely = middle_of(ratios);
        prices.push_back(std::move(priced));
    }
    return prices;
}

}  // namespace tedge::usecases
