#include "difference_laying.hpp"

#include <algorithm>

#include "laid_over.hpp"
#include "tedge/imaging/difference_gates.hpp"
#include "tedge/imaging/registration.hpp"

namespace tedge::usecases {

using imaging::Raster8;
using imaging::RasterF;

namespace {

constexpr std::uint8_t shown_wholly = 250;

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
            here = on_face && here >= shown_wholly ? 255 : 0;
        }
    }
    return counted;
}

// The floor is one of ΔE00. A saturated colour differs in its parts by several times its ΔE00 (CIEDE2000 divides chroma
// by 1 + 0.045 C'): where ΔE00 is no evidence they are none either, whatever their size.
RasterF without_what_is_no_evidence(RasterF map, const RasterF& delta_e00, const std::optional<double>& floor) {
    if (!floor) return map;
    for (std::size_t i = 0; i < map.samples().size(); ++i)
        if (static_cast<double>(delta_e00.samples()[i]) < *floor) map.samples()[i] = 0.0F;
    return map;
}

}  // namespace

Expected<DifferenceLaid> laid_and_gated(PlacedPixels first, const PlacedPixels& second,
                                        const DifferenceSetting& setting, const Progress& progress) {
    constexpr double unknown_floor = 1.0;  // what a misfit may make where no chart says what is evidence

    const auto map = reference_from_moving(first.placement, second.placement, first.pixels.size());
    if (!map) return pass_on(map);
    auto laid = imaging::resample(second.pixels, *map, first.pixels.size(), 0, progress.part(0.0, 0.3));
    if (!laid) return pass_on(laid);
    const auto shown = compared_part(first, second, *map, setting.face, progress.part(0.3, 0.4));
    if (!shown) return pass_on(shown);
    imaging::ColourDifferenceOptions options;
    options.both_cross_polarised = setting.both_cross_polarised;
    auto difference = imaging::colour_difference(first.pixels, *laid, options, progress.part(0.4, 0.7));
    if (!difference) return pass_on(difference);
    imaging::DifferenceGates gates;
    gates.shown = &*shown;
    setting.local.tell(gates);
    Floor floor = setting.floor(first.pixels, *laid, *shown);
    gates.floor_delta_e00 = floor.delta_e00.value_or(unknown_floor);
    auto gated = imaging::gate_differences(first.pixels, *laid, difference->delta_e00, gates, progress.part(0.7, 1.0));
    if (!gated) return pass_on(gated);
    return DifferenceLaid{std::move(first), *std::move(laid), *std::move(gated), *std::move(difference),
                          std::move(floor)};
}

Expected<RasterF> map_of_kind(const DifferenceLaid& laid, imaging::DifferenceKind kind, const Progress& progress) {
    if (kind == imaging::DifferenceKind::delta_e00) return laid.difference.delta_e00;
    return imaging::difference_map(laid.first.pixels, laid.second, kind, 0, progress);
}

Raster8 drawn_difference(RasterF map, const DifferenceLaid& laid, const imaging::DifferenceScale& scale) {
    const Raster8 counted = imaging::counted_of(laid.gated);
    return imaging::draw_differences(
        without_what_is_no_evidence(std::move(map), laid.difference.delta_e00, laid.floor.delta_e00), scale, &counted);
}

}  // namespace tedge::usecases
