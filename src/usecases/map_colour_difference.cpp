#include "tedge/usecases/map_colour_difference.hpp"

#include <algorithm>
#include <cmath>

#include "coloured_pair.hpp"
#include "laid_over.hpp"
#include "tedge/imaging/registration.hpp"

namespace tedge::usecases {

namespace {

using imaging::Raster8;

constexpr imaging::DifferenceScale usual_scale{0.0, 20.0};
constexpr std::uint8_t wholly_inside = 250;

// On the face, and where the second photograph reaches.
Expected<Raster8> compared_part(const PlacedPixels& first, const PlacedPixels& second, const imaging::PixelMap& map,
                                SizeMm face, const Progress& progress) {
    Raster8 white(second.pixels.width_px(), second.pixels.height_px(), 1);
    std::ranges::fill(white.samples(), std::uint8_t{255});
    auto counted = imaging::resample(white, map, first.pixels.size(), 0, progress);
    if (!counted) return counted;
    for (int y = 0; y < counted->height_px(); ++y) {
        for (int x = 0; x < counted->width_px(); ++x) {
            std::uint8_t& here = counted->at(x, y);
            const auto at = first.placement.face_from_photo.apply(x, y);
            const bool on_face = at[0] >= 0 && at[1] >= 0 && at[0] <= face.width_mm && at[1] <= face.height_mm;
            here = on_face && here >= wholly_inside ? 255 : 0;
        }
    }
    return counted;
}

}  // namespace

Expected<ColourDifferenceMap> map_colour_difference(casebook::Casebook& book, const Uuid& reference,
                                                    const Uuid& second_id, const Progress& progress) {
    const auto pair = coloured_pair(book, reference, second_id);
    if (!pair) return pass_on(pair);
    const auto first = read_placed(book, pair->snapshot, pair->first, pair->frame, progress.part(0.0, 0.3));
    if (!first) return pass_on(first);
    const auto second = read_placed(book, pair->snapshot, pair->second, pair->frame, progress.part(0.3, 0.6));
    if (!second) return pass_on(second);
    const auto map = reference_from_moving(first->placement, second->placement, first->pixels.size());
    if (!map) return pass_on(map);
    const auto laid = imaging::resample(second->pixels, *map, first->pixels.size(), 0, progress.part(0.6, 0.75));
    if (!laid) return pass_on(laid);
    const auto counted = compared_part(*first, *second, *map, pair->face, progress.part(0.75, 0.8));
    if (!counted) return pass_on(counted);
    imaging::ColourDifferenceOptions options;
    options.both_cross_polarised = both_cross_polarised(*pair);
    options.counted = &*counted;
    const auto difference = imaging::colour_difference(first->pixels, *laid, options, progress.part(0.8, 1.0));
    if (!difference) return pass_on(difference);
    const auto& figures = difference->report.gated;
    if (!figures)
        return fail("colour-difference.empty", "The two show no part of the face in common.",
                    "Choose two that overlap.");
    return ColourDifferenceMap{imaging::draw_differences(difference->delta_e00, usual_scale, &*counted),
                               first->placement,
                               usual_scale,
                               *figures,
                               difference->report.note,
                               std::hypot(first->placement.error_mm, second->placement.error_mm)};
}

}  // namespace tedge::usecases
