#include "coloured_pair.hpp"

#include <fmt/format.h>

#include "laid_over.hpp"
#include "tedge/casebook/photograph_words.hpp"
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
                                   const Progress& progress) {
    const auto srgb = srgb_of(book, photograph.record.body.text_or("sha256"), progress);
    if (!srgb) return pass_on(srgb);
    PlacedPixels placed{imaging::shrunk_to_fit(*srgb, longest_compared_side_px), {}};
    const auto smaller = of_smaller(photograph.face_from_photo, srgb->size(), placed.pixels.size());
    if (!smaller) return pass_on(smaller);
    placed.placement = *smaller;
    return placed;
}

}  // namespace tedge::usecases
