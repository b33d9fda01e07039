#include "tedge/usecases/forecast_cleaning.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <nlohmann/json.hpp>

#include "cut_to_face.hpp"
#include "forecast_windows.hpp"
#include "laid_over.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/imaging/forecast_sheet.hpp"
#include "tedge/imaging/write_picture.hpp"
#include "window_mask.hpp"

namespace tedge::usecases {

namespace {

using imaging::CleaningForecast;
using imaging::Raster8;
using nlohmann::json;

constexpr int jpeg_quality = 95;

imaging::PictureWriteOptions marked_options() {
    imaging::PictureWriteOptions options;
    options.jpeg_quality = jpeg_quality;
    options.description = imaging::forecast_description;
    return options;
}

struct Forecasted {
    CleaningForecast forecast;
    FaceAlone on_face;  // what it was made from
};

json recipe_of(const PlacedPair& pair, const ForecastWindows& windows, const Forecasted& made) {
    const CleaningForecast& forecast = made.forecast;
    json places = json::array();
    for (const Region& each : windows.places) places.push_back(json::parse(each.to_geojson()));
    return {{"method", "coat of dirt and varnish fitted to cleaned windows"},
            {"longest_side_px", longest_compared_side_px},
            {"jpeg_quality", jpeg_quality},
            {"sha256", {pair.first.record.body.text_or("sha256"), pair.second.record.body.text_or("sha256")}},
            {"windows_mm", std::move(places)},
            {"cut_to_face_at_px", {made.on_face.cut_at.x_px, made.on_face.cut_at.y_px}},
            {"absorption", forecast.absorption},
            {"veil", forecast.veil},
            {"seen_change_delta_e00", forecast.seen_change},
            {"mean_uncertainty_delta_e00", forecast.mean_uncertainty},
            {"notes", forecast.notes}};
}

NewDerivedPicture kept_as(const PlacedPair& pair, const Placement& placement, std::string what) {
    NewDerivedPicture wanted;
    wanted.case_id = pair.first.record.case_id;
    wanted.kind = "cleaning_forecast";
    wanted.what = std::move(what);
    wanted.from_photographs = {{pair.first.record.id, "before"}, {pair.second.record.id, "with cleaned windows"}};
    wanted.face_frame = pair.frame;
    wanted.face_from_picture = placement;
    return wanted;
}

ForecastWindows windows_of(const ForecastWanted& wanted, const PlacedPair& pair) {
    if (wanted.windows.empty()) return recorded_windows(pair);
    return {wanted.windows, std::vector<std::optional<Uuid>>(wanted.windows.size()), ""};
}

Expected<Forecasted> forecast_pair(casebook::Casebook& book, const PlacedPair& pair, const ForecastWindows& windows,
                                   bool without_gloss, const Progress& progress) {
    auto whole = read_placed(book, pair.first, {}, progress.part(0.0, 0.25));
    if (!whole) return pass_on(whole);
    auto on_face = cut_to_face(*std::move(whole), pair.face);
    if (!on_face) return pass_on(on_face);
    const PlacedPixels& first = on_face->placed;
    const auto second = read_placed(book, pair.second, {}, progress.part(0.25, 0.5));
    if (!second) return pass_on(second);
    const SizePx size = first.pixels.size();
    const auto map = reference_from_moving(first.placement, second->placement, size);
    if (!map) return pass_on(map);
    const auto laid = imaging::resample(second->pixels, *map, size, 0, progress.part(0.5, 0.6));
    if (!laid) return pass_on(laid);
    const auto mask = window_mask(windows.places, first.placement, size);
    if (!mask) return pass_on(mask);
    imaging::CleaningForecastOptions options;
    options.without_gloss = without_gloss;
    options.painted = &on_face->face;
    auto forecast = imaging::forecast_cleaning(first.pixels, *laid, *mask, options, progress.part(0.6, 0.9));
    if (!forecast) return pass_on(forecast);
    return Forecasted{*std::move(forecast), *std::move(on_face)};
}

// Half of what cleaning changed is what a forecast may be off at most to be worth showing; a rule of our own.
Expected<void> check_worth_showing(const CleaningForecast& forecast) {
    const auto& error = forecast.left_out_windows ? forecast.left_out_windows : forecast.left_out_halves;
    if (!error || error->mean <= 0.5 * forecast.seen_change) return {};
    return fail("forecast.not-to-be-trusted",
                fmt::format("A window foretold from the others comes out ΔE00 {} wrong, of {} that cleaning changed: "
                            "what is under the dirt elsewhere cannot be told from them.",
                            format_fixed(error->mean, 1), format_fixed(forecast.seen_change, 1)),
                "Leave out windows that lie under another layer, clean windows over other colours, or photograph both "
                "times in like light.");
}

}  // namespace

Expected<ForecastMade> forecast_cleaning(const Acting& acting, const ForecastWanted& wanted, const Progress& progress) {
    const auto pair = coloured_pair(acting.book, wanted.uncleaned, wanted.with_windows);
    if (!pair) return pass_on(pair);
    if (auto order = check_order(pair->first.record, pair->second.record); !order) return pass_on(order);
    ForecastWindows windows = windows_of(wanted, *pair);
    if (windows.places.empty())
        return fail("forecast.no-window", "No trial or treatment on this face says where it was cleaned.",
                    "Record the places that were cleaned, or outline the windows.");
    auto made = forecast_pair(acting.book, *pair, windows, wanted.wetted_out || both_cross_polarised(*pair), progress);
    if (!made) return pass_on(made);
    CleaningForecast& forecast = made->forecast;
    if (auto worth = check_worth_showing(forecast); !worth) return pass_on(worth);
    if (!windows.note.empty()) forecast.notes.push_back(windows.note);
    std::ranges::move(guessed_lights(*pair), std::back_inserter(forecast.notes));
    auto file =
        imaging::encode_picture(std::get<Raster8>(forecast.picture), imaging::PictureFormat::jpeg, marked_options());
    if (!file) return pass_on(file);
    const auto unsure = imaging::encode_picture(imaging::uncertainty_sheet(forecast, &made->on_face.face),
                                                imaging::PictureFormat::png, marked_options());
    if (!unsure) return pass_on(unsure);
    if (progress.stopped()) return cancelled();
    const Placement& placement = made->on_face.placed.placement;
    auto kept = keep_derived_pictures(
        acting, {{kept_as(*pair, placement, "forecast"), *file}, {kept_as(*pair, placement, "uncertainty"), *unsure}},
        recipe_of(*pair, windows, *made));
    if (!kept) return pass_on(kept);
    return ForecastMade{std::move(kept->front()), std::move(kept->back()), *std::move(file), std::move(forecast),
                        std::move(windows.records)};
}

}  // namespace tedge::usecases
