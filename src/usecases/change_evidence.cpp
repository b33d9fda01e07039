#include "change_evidence.hpp"

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

std::optional<double> chart_error(const CaseSnapshot& snapshot, const Record& photograph) {
    std::optional<double> out;
    for (const Record* each : snapshot.of_kind("measurement"))
        if (each->body.text_or("unit") == "ΔE00" &&
            each->body.text_or("from_photographs/" + to_text(photograph.id)) == "chart")
            out = each->body.number("value");
    return out;
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

Floor floor_between(const CaseSnapshot& snapshot, const Record& first, const Record& second) {
    const auto one = chart_error(snapshot, first), other = chart_error(snapshot, second);
    if (!one || !other)
        return {
            std::nullopt,
            "No chart: a look, not a measurement. Below which difference nothing is evidence is not known; it takes "
            "a 24-patch chart photographed beside the picture both times, and measured."};
    const imaging::ChangeFloor floor = imaging::change_floor(*one, *other);
    return {floor.delta_e00, floor.sentence};
}

}  // namespace tedge::usecases
