#include "coloured_pair.hpp"

#include <fmt/format.h>

#include "laid_over.hpp"
#include "tedge/casebook/photograph_words.hpp"
#include "tedge/imaging/chart_correction.hpp"
#include "tedge/imaging/shrink.hpp"

namespace tedge::usecases {

namespace {

using imaging::Raster8;

Expected<void> check_light(casebook::Casebook& book, const Uuid& id) {
    const auto record = stored_photograph(book, id);
    if (!record) return pass_on(record);
    const std::string light = record->body.text_or("light");
    if (casebook::shows_colour(light)) return {};
    return fail("photograph.no-colour-light",
                fmt::format("A photograph in {} light does not show what colour the surface has.", light),
                "Choose photographs in normal or cross-polarised light.", {{"light", light}});
}

// Read as the chart was (measure_chart): a raw file in the camera's own colours.
Expected<Raster8> corrected(const casebook::Casebook& book, const std::string& sha256, const PhotographChart& chart,
                            const Progress& progress) {
    const auto picture = imaging::read_picture(book.original_path(sha256),
                                               {.raw = imaging::RawRendering::camera_linear}, progress.part(0.0, 0.6));
    if (!picture) return pass_on(picture);
    return imaging::corrected_by_chart(*picture, chart.transform, chart.light, progress.part(0.6, 1.0));
}

}  // namespace

Expected<PlacedPair> coloured_pair(casebook::Casebook& book, const Uuid& first, const Uuid& second) {
    // Asked before placement: there is no use in placing what is not compared anyway.
    for (const Uuid& each : {first, second})
        if (const auto fine = check_light(book, each); !fine) return pass_on(fine);
    return placed_pair(book, first, second);
}

bool both_cross_polarised(const PlacedPair& pair) {
    return pair.first.record.body.text_or("light") == "cross-polarised" &&
           pair.second.record.body.text_or("light") == "cross-polarised";
}

Expected<PlacedPixels> read_placed(const casebook::Casebook& book, const PlacedPhotograph& photograph,
                                   const PhotographChart* chart, const Progress& progress) {
    const std::string sha256 = photograph.record.body.text_or("sha256");
    const auto srgb = chart != nullptr ? corrected(book, sha256, *chart, progress) : srgb_of(book, sha256, progress);
    if (!srgb) return pass_on(srgb);
    PlacedPixels placed{imaging::shrunk_to_fit(*srgb, longest_compared_side_px), {}};
    const auto smaller = of_smaller(photograph.face_from_photo, srgb->size(), placed.pixels.size());
    if (!smaller) return pass_on(smaller);
    placed.placement = *smaller;
    return placed;
}

}  // namespace tedge::usecases
