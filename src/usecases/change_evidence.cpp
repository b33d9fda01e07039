#include "change_evidence.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "tedge/imaging/colour_fit.hpp"

namespace tedge::usecases {
namespace {

using casebook::CaseSnapshot;
using casebook::Record;

constexpr int longest_chain = 16;

double placed_to_mm(const Record& photograph) {
    const auto placement = photograph.body.placement("face_from_photo");
    return placement ? placement->error_mm : 0.0;
}

struct Step {
    const Record* reference = nullptr;
    double own_mm2 = 0.0;  // what this registration added to the error of its reference
};

// The registration that a photograph lies by: the newest one that gave it the error that its placement has.
Step registered_on(const CaseSnapshot& snapshot, const Record& photograph) {
    Step step;
    const double error_mm = placed_to_mm(photograph);
    for (const Record* each : snapshot.of_kind("registration")) {
        if (!each->body.flag("usable") || each->body.record("moving") != photograph.id) continue;
        if (std::abs(each->body.number("error_mm").value_or(-1.0) - error_mm) > 1e-9) continue;
        const Record* reference = snapshot.find(each->body.record("reference").value_or(Uuid{}));
        if (reference == nullptr) continue;
        const double of_reference_mm = placed_to_mm(*reference);
        step = {reference, std::max(0.0, error_mm * error_mm - of_reference_mm * of_reference_mm)};
    }
    return step;
}

// Every photograph that this one hangs on, itself first, with the error up to there.
std::map<Uuid, double> hangs_on(const CaseSnapshot& snapshot, const Record& photograph) {
    std::map<Uuid, double> out{{photograph.id, 0.0}};
    const Record* at = &photograph;
    double sum_mm2 = 0.0;
    for (int i = 0; i < longest_chain; ++i) {
        const Step step = registered_on(snapshot, *at);
        if (step.reference == nullptr || out.contains(step.reference->id)) break;
        sum_mm2 += step.own_mm2;
        out.emplace(step.reference->id, sum_mm2);
        at = step.reference;
    }
    return out;
}

// What is wrong with the chart of one of the two; "" when it is measured.
std::string wanting(const PhotographChart& chart, std::string_view which) {
    switch (chart.state) {
        case ChartState::none:
            return fmt::format("no chart is in the {}", which);
        case ChartState::unmeasured:
            return fmt::format("a chart is in the {} and is not measured yet: measure it first", which);
        case ChartState::no_fit:
            return fmt::format("the chart in the {} was measured before corrections were kept: measure it again",
                               which);
        case ChartState::measured:
            break;
    }
    return "";
}

std::string as_sentence(std::string text) {
    if (text.empty()) return text;
    text[0] = static_cast<char>(text[0] - 'a' + 'A');  // all of them begin with an ASCII letter
    return text + ".";
}

std::string missing_in(const PhotographChart& first, const PhotographChart& second) {
    if (first.state == ChartState::none && second.state == ChartState::none)
        return "No chart is in either photograph: it takes a 24-patch chart beside the picture both times, and "
               "measured.";
    const std::string one = wanting(first, "first"), other = wanting(second, "second");
    return as_sentence(one + (one.empty() || other.empty() ? "" : "; ") + other);
}

}  // namespace

double error_between_mm(const CaseSnapshot& snapshot, const PlacedPhotograph& first, const PlacedPhotograph& second) {
    const auto one = hangs_on(snapshot, first.record), other = hangs_on(snapshot, second.record);
    std::optional<double> least_mm2;
    for (const auto& [id, mm2] : one)
        if (const auto shared = other.find(id); shared != other.end())
            least_mm2 = std::min(least_mm2.value_or(mm2 + shared->second), mm2 + shared->second);
    return least_mm2 ? std::sqrt(*least_mm2)
                     : std::hypot(first.face_from_photo.error_mm, second.face_from_photo.error_mm);
}

ChartsOfPair charts_of(const CaseSnapshot& snapshot, const Record& first, const Record& second) {
    ChartsOfPair charts{chart_of(snapshot, first), chart_of(snapshot, second), ""};
    charts.missing = missing_in(charts.first, charts.second);
    return charts;
}

Floor floor_of(const ChartsOfPair& charts, double noise_delta_e00) {
    if (!charts.both())
        return {std::nullopt,
                "A look, not a measurement. " + charts.missing +
                    " Colours are compared as the photographs were developed: another exposure or white balance counts "
                    "as a change, and below which difference nothing is evidence is not known."};
    const double floor = std::hypot(charts.first.left_out_delta_e00, charts.second.left_out_delta_e00, noise_delta_e00);
    return {floor, fmt::format("Both are corrected by their charts. {}", imaging::change_floor(floor, 0.0).sentence)};
}

}  // namespace tedge::usecases
