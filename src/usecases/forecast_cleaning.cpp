#include "tedge/usecases/forecast_cleaning.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "coloured_pair.hpp"
#include "forecast_windows.hpp"
#include "laid_over.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/imaging/difference_scale.hpp"
#include "tedge/imaging/write_picture.hpp"
#include "window_mask.hpp"

namespace tedge::usecases {

namespace {

using imaging::CleaningForecast;
using imaging::Raster8;
using nlohmann::json;

constexpr int jpeg_quality = 95;
constexpr imaging::DifferenceScale uncertainty_scale{0.0, 10.0};

imaging::PictureWriteOptions marked_options() {
    imaging::PictureWriteOptions options;
    options.jpeg_quality = jpeg_quality;
    options.description = imaging::forecast_description;
    return options;
}

// Cells as large as they are on the forecast, so that both lie on the face alike.
Raster8 drawn_uncertainty(const CleaningForecast& forecast, SizePx size) {
    imaging::RasterF wide(size.width_px, size.height_px, 1);
    for (int y = 0; y < size.height_px; ++y)
        for (int x = 0; x < size.width_px; ++x)
            wide.at(x, y) = forecast.uncertainty.at(x / forecast.cell_px, y / forecast.cell_px);
    return imaging::draw_differences(wide, uncertainty_scale);
}

json recipe_of(const PlacedPair& pair, const ForecastWindows& windows, const CleaningForecast& forecast) {
    json places = json::array();
    for (const Region& each : windows.places) places.push_back(json::parse(each.to_geojson()));
    return {{"method", "coat of dirt and varnish fitted to cleaned windows"},
            {"longest_side_px", longest_compared_side_px},
            {"jpeg_quality", jpeg_quality},
            {"sha256", {pair.first.record.body.text_or("sha256"), pair.second.record.body.text_or("sha256")}},
            {"windows_mm", std::move(places)},
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

struct Forecasted {
    CleaningForecast forecast;
    Placement placement;
};

Expected<Forecasted> forecast_pair(casebook::Casebook& book, const PlacedPair& pair, const ForecastWindows& windows,
                                   bool without_gloss, const Progress& progress) {
    const auto first = read_placed(book, pair.first, nullptr, progress.part(0.0, 0.25));
    if (!first) return pass_on(first);
    const auto second = read_placed(book, pair.second, nullptr, progress.part(0.25, 0.5));
    if (!second) return pass_on(second);
    const SizePx size = first->pixels.size();
    const auto map = reference_from_moving(first->placement, second->placement, size);
    if (!map) return pass_on(map);
    const auto laid = imaging::resample(second->pixels, *map, size, 0, progress.part(0.5, 0.6));
    if (!laid) return pass_on(laid);
    const auto mask = window_mask(windows.places, first->placement, size);
    if (!mask) return pass_on(mask);
    const auto whole_face = Region::rectangle({0, 0}, pair.face);
    if (!whole_face) return pass_on(whole_face);
    const auto painted = window_mask({*whole_face}, first->placement, size);
    if (!painted) return pass_on(painted);
    imaging::CleaningForecastOptions options;
    options.without_gloss = without_gloss;
    options.painted = &*painted;
    auto forecast = imaging::forecast_cleaning(first->pixels, *laid, *mask, options, progress.part(0.6, 0.9));
    if (!forecast) return pass_on(forecast);
    return Forecasted{*std::move(forecast), first->placement};
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
    const auto& pixels = std::get<Raster8>(forecast.picture);
    auto file = imaging::encode_picture(pixels, imaging::PictureFormat::jpeg, marked_options());
    if (!file) return pass_on(file);
    const auto drawn = imaging::encode_picture(drawn_uncertainty(forecast, pixels.size()), imaging::PictureFormat::png,
                                               marked_options());
    if (!drawn) return pass_on(drawn);
    if (progress.stopped()) return cancelled();
    const json recipe = recipe_of(*pair, windows, forecast);
    auto kept = keep_derived_picture(acting, kept_as(*pair, made->placement, "forecast"), *file, recipe);
    if (!kept) return pass_on(kept);
    auto unsure = keep_derived_picture(acting, kept_as(*pair, made->placement, "uncertainty"), *drawn, recipe);
    if (!unsure) return pass_on(unsure);
    return ForecastMade{*std::move(kept), *std::move(unsure), *std::move(file), std::move(forecast),
                        std::move(windows.records)};
}

}  // namespace tedge::usecases
