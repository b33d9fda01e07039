#include "tedge/usecases/map_colour_difference.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "coloured_pair.hpp"
#include "difference_laying.hpp"
#include "difference_recipe.hpp"
#include "laid_over.hpp"
#include "local_error.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/casebook/frames.hpp"
#include "tedge/imaging/difference_noise.hpp"
#include "tedge/imaging/shrink.hpp"

namespace tedge::usecases {

namespace {

using casebook::Record;
using imaging::Raster8;
using imaging::RasterF;

constexpr imaging::DifferenceScale usual_scale{0.0, 20.0};
std::vector<std::string> what_was_evened(const PlacedPixels& first, const PlacedPixels& second) {
    std::vector<std::string> out;
    if (!first.evened.empty()) out.push_back("The first photograph: " + first.evened);
    if (!second.evened.empty()) out.push_back("The second photograph: " + second.evened);
    return out;
}

imaging::DifferenceScale scale_for(imaging::DifferenceKind kind, const std::optional<double>& floor) {
    imaging::DifferenceScale scale = usual_scale;
    scale.both_ways = imaging::has_sign(kind);
    if (!floor) return scale;
    scale.floor = std::round(10.0 * *floor) / 10.0;  // as the sentence says it: the legend shows this figure
    scale.top = std::max(scale.top, 2.0 * scale.floor);
    return scale;
}

Expected<std::vector<PlaceFigures>> figures_of_places(const PlacedPair& pair, const std::vector<Uuid>& places,
                                                      const RasterF& map, const DifferenceLaid& laid) {
    std::vector<PlaceFigures> out;
    for (const Uuid& id : places) {
        const Record* record = pair.snapshot.find(id);
        const auto region =
            record == nullptr ? std::nullopt : casebook::place_on_frame(pair.snapshot, *record, pair.frame);
        if (!region || region->area_mm2() <= 0.0)
            return fail("colour-difference.no-place", "This record has no area on the face that is compared.",
                        "Choose a finding, a trial or another record with an area on this face.",
                        {{"record", to_text(id)}});
        auto figures = imaging::figures_in(map, laid.gated, *region, laid.first.placement);
        if (!figures) return pass_on(figures);
        out.push_back({id, *std::move(figures)});
    }
    return out;
}

// On smaller copies: what was cleaned is found from averages.
Expected<imaging::CleanedAreas> cleaned_areas(const DifferenceLaid& laid, const Progress& progress) {
    constexpr int longest_px = 1500;
    const Raster8 before = imaging::shrunk_to_fit(laid.first.pixels, longest_px);
    const Raster8 after = imaging::shrunk_to_fit(laid.second, longest_px);
    const auto placement = of_smaller(laid.first.placement, laid.first.pixels.size(), before.size());
    if (!placement) return pass_on(placement);
    Raster8 counted(before.width_px(), before.height_px(), 1);
    constexpr auto misfit = static_cast<std::uint8_t>(imaging::NotCounted::misfit);  // averages bear that
    for (int y = 0; y < counted.height_px(); ++y)
        for (int x = 0; x < counted.width_px(); ++x) {
            const std::uint8_t reason = laid.gated.at((2 * x + 1) * laid.gated.width_px() / (2 * counted.width_px()),
                                                      (2 * y + 1) * laid.gated.height_px() / (2 * counted.height_px()));
            counted.at(x, y) = reason == 0 || reason == misfit ? 255 : 0;
        }
    imaging::CleanedAreasWanted wanted;
    wanted.counted = &counted;
    wanted.floor_delta_e00 = laid.floor.delta_e00;
    return imaging::find_cleaned_areas(before, after, *placement, wanted, progress);
}

// Where the two lie so loosely on each other that a misfit could make every difference seen, what is shown is still
// worth a look: then that alone is taken for shown, and nothing for evidence.
bool is_only_a_look(const imaging::RegionFigures& whole) {
    const auto misfit = std::ranges::find(imaging::reasons_not_counted, imaging::NotCounted::misfit);
    const auto index = static_cast<std::size_t>(misfit - imaging::reasons_not_counted.begin());
    return !whole.figures && whole.left_out_cm2[index] > 0.0;
}

void count_in_spite_of_misfit(Raster8& gated) {
    std::ranges::replace(gated.samples(), static_cast<std::uint8_t>(imaging::NotCounted::misfit),
                         static_cast<std::uint8_t>(imaging::NotCounted::counts));
}

Expected<ColourDifferenceMap> described(const PlacedPair& pair, DifferenceLaid laid,
                                        const ColourDifferenceWanted& wanted, const Progress& progress) {
    auto mapped = map_of_kind(laid, wanted.kind, progress.part(0.0, 0.3));
    if (!mapped) return pass_on(mapped);
    RasterF map = *std::move(mapped);
    const auto face = Region::rectangle({0.0, 0.0}, pair.face);
    if (!face) return pass_on(face);
    auto whole = imaging::figures_in(map, laid.gated, *face, laid.first.placement);
    if (!whole) return pass_on(whole);
    const bool look = is_only_a_look(*whole);
    if (look) {
        count_in_spite_of_misfit(laid.gated);
        whole = imaging::figures_in(map, laid.gated, *face, laid.first.placement);
        if (!whole) return pass_on(whole);
    }
    if (!whole->figures)
        return fail("colour-difference.empty", "The two show no part of the face in common that could be compared.",
                    "Choose two that overlap, and lay them over each other well.");
    auto places = figures_of_places(pair, wanted.places, map, laid);
    if (!places) return pass_on(places);
    ColourDifferenceMap out;
    out.kind = wanted.kind;
    out.face_from_map = laid.first.placement;
    out.face_frame = pair.frame;
    out.figures = *whole->figures;
    out.whole = *std::move(whole);
    out.places = *std::move(places);
    out.note = laid.difference.report.note;
    if (wanted.cleaned_areas) {
        auto cleaned = cleaned_areas(laid, progress.part(0.3, 0.9));
        if (!cleaned) return pass_on(cleaned);
        out.cleaned = *std::move(cleaned);
    }
    out.floor_delta_e00 = laid.floor.delta_e00;
    out.floor_sentence = look ? too_loose_sentence(pair.error_mm) : laid.floor.sentence;
    out.only_a_look = look;
    out.error_mm = pair.error_mm;
    out.scale = scale_for(wanted.kind, laid.floor.delta_e00);
    out.drawn = drawn_difference(std::move(map), laid, out.scale);
    return out;
}

}  // namespace

Expected<ColourDifferenceMap> map_colour_difference(casebook::Casebook& book, const Uuid& reference,
                                                    const Uuid& second_id, const ColourDifferenceWanted& wanted,
                                                    const Progress& progress) {
    const auto pair = coloured_pair(book, reference, second_id);
    if (!pair) return pass_on(pair);
    if (wanted.cleaned_areas)
        if (const auto order = check_order(pair->first.record, pair->second.record); !order) return pass_on(order);
    // Both or neither: one corrected and the other not differ by the correction.
    const ChartsOfPair charts = charts_of(pair->snapshot, pair->first.record, pair->second.record);
    const auto light = [&](const PhotographChart& chart) {
        return LightWanted{.evened = true, .chart = charts.both() ? &chart : nullptr};
    };
    auto first = read_placed(book, pair->first, light(charts.first), progress.part(0.0, 0.25));
    if (!first) return pass_on(first);
    const auto second = read_placed(book, pair->second, light(charts.second), progress.part(0.25, 0.5));
    if (!second) return pass_on(second);
    std::vector<std::string> evened = what_was_evened(*first, *second);
    const DifferenceSetting setting{.face = pair->face,
                                    .local = local_error(*pair, first->placement, first->pixels.size()),
                                    .both_cross_polarised = both_cross_polarised(*pair),
                                    .floor = [&](const Raster8& one, const Raster8& other, const Raster8& shown) {
                                        return floor_of(charts, imaging::noise_delta_e00(one, other, shown));
                                    }};
    auto laid = laid_and_gated(*std::move(first), *second, setting, progress.part(0.5, 0.8));
    if (!laid) return pass_on(laid);
    auto map = described(*pair, *std::move(laid), wanted, progress.part(0.8, 1.0));
    if (!map) return map;
    map->charts_missing = charts.missing;
    map->evened = std::move(evened);
    map->guessed_lights = guessed_lights(*pair);
    say_how_made(book, *pair, charts, *map);
    return map;
}

Expected<Done> record_colour_difference(const Acting& acting, const Uuid& reference, const Uuid& second,
                                        const ColourDifferenceMap& map, const std::optional<Uuid>& place) {
    if (!map.floor_delta_e00)
        return fail(
            "colour-difference.no-chart",
            fmt::format("Without a measured colour chart in both photographs this is a look, not a measurement. {}",
                        map.charts_missing),
            "Measure the chart of both photographs first.");
    if (const auto evidence = check_is_evidence(acting, reference, second, map); !evidence) return pass_on(evidence);
    const auto found = std::ranges::find_if(map.places, [&](const PlaceFigures& each) { return each.record == place; });
    const imaging::RegionFigures* figures = !place ? &map.whole : found != map.places.end() ? &found->figures : nullptr;
    if (figures == nullptr || !figures->figures)
        return fail("colour-difference.no-place", "Nothing counts at this place.", "Choose a place that was compared.");
    casebook::FieldValues values;
    values.text("what", fmt::format("mean {} between two photographs", imaging::symbol_of(map.kind)))
        .number("value", figures->figures->mean)
        .text("unit", map.kind == imaging::DifferenceKind::delta_e00 ? "ΔE00" : "CIELAB")
        .record("face_frame", map.face_frame)
        .value("from_photographs", nlohmann::json::object({{to_text(reference), "before"}, {to_text(second), "after"}}))
        .text("note", fmt::format("{} cm² counted of {}. {}{}{}{}", format_fixed(figures->counted_cm2, 1),
                                  format_fixed(figures->area_cm2, 1), map.floor_sentence,
                                  map.note.empty() ? "" : " Includes gloss.", map.evened.empty() ? "" : " ",
                                  fmt::join(map.evened, " ")));
    // What is sure of ΔE00 says nothing of its parts: of a saturated colour they are several times as unsure.
    if (map.kind == imaging::DifferenceKind::delta_e00) values.number("uncertainty", *map.floor_delta_e00);
    if (place) {
        const auto snapshot = acting.book.snapshot(map.picture.case_id);
        if (!snapshot) return pass_on(snapshot);
        const Record* placed = snapshot->find(*place);
        const auto region =
            placed == nullptr ? std::nullopt : casebook::place_on_frame(*snapshot, *placed, map.face_frame);
        if (region) values.region("region", *region);
    }
    return add_record(acting, map.picture.case_id, "measurement", values);
}

}  // namespace tedge::usecases
