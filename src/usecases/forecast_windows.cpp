#include "forecast_windows.hpp"

#include <algorithm>

#include "tedge/casebook/frames.hpp"
#include "tedge/usecases/next_trial.hpp"

namespace tedge::usecases {

namespace {

using casebook::Record;

enum class Down { to_nothing, to_varnish, to_paint };

Down down_to(const Record& record) {
    if (record.kind == "trial") {
        if (says_stop(record.body)) return Down::to_nothing;
        const std::string layer = record.body.text_or("layer");
        if (layer == "varnish") return Down::to_paint;
        return layer == "surface-dirt" ? Down::to_varnish : Down::to_nothing;
    }
    if (record.body.flag("planned")) return Down::to_nothing;
    const std::string act = record.body.text_or("act");
    if (act == "varnish-removal") return Down::to_paint;
    return act == "surface-cleaning" ? Down::to_varnish : Down::to_nothing;
}

}  // namespace

ForecastWindows recorded_windows(const PlacedPair& pair) {
    struct Found {
        Uuid record;
        Region place;
        Down down;
    };
    std::vector<Found> found;
    for (const char* kind : {"trial", "treatment_step"})
        for (const Record* each : pair.snapshot.of_kind(kind)) {
            const Down down = down_to(*each);
            if (down == Down::to_nothing) continue;
            auto place = casebook::place_on_frame(pair.snapshot, *each, pair.frame);
            if (place && !place->empty()) found.push_back({each->id, *std::move(place), down});
        }
    const bool some_to_paint =
        std::ranges::any_of(found, [](const Found& each) { return each.down == Down::to_paint; });
    ForecastWindows out;
    std::size_t left_out = 0;
    for (Found& each : found) {
        if (some_to_paint && each.down != Down::to_paint) {
            ++left_out;
            continue;
        }
        out.places.push_back(std::move(each.place));
        out.records.emplace_back(each.record);
    }
    if (left_out > 0) out.note = "Windows that were cleaned to the varnish only are left out.";
    return out;
}

}  // namespace tedge::usecases
