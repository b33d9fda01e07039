#include "coloured_pair.hpp"

#include "board_light.hpp"
#include "colour_light.hpp"
#include "laid_over.hpp"
#include "tedge/imaging/chart_correction.hpp"
#include "tedge/imaging/picture.hpp"
#include "tedge/imaging/shrink.hpp"
#include "tedge/usecases/guessed_light.hpp"

namespace tedge::usecases {

namespace {

using casebook::Record;
using imaging::Raster8;

// A file without colour differs from every other by all the colour that it left out.
Expected<void> check_colour(casebook::Casebook& book, const Record& photograph) {
    const auto probe = imaging::probe_picture(book.original_path(photograph.body.text_or("sha256")));
    if (!probe || probe->channels != 1) return {};  // what cannot be read is told of where it is read
    return fail("photograph.grey", "One of the photographs is grey: it does not show what colour the surface has.",
                "Choose photographs in colour.", {{"photograph", to_text(photograph.id)}});
}

Expected<void> check_light(casebook::Casebook& book, const Uuid& id) {
    const auto record = existing_photograph(book, id);
    if (!record) return pass_on(record);
    if (const auto fine = check_shows_colour(*record); !fine) return fine;
    return check_colour(book, *record);
}

struct Lit {
    Raster8 srgb;
    std::string evened;
};

// As the file was developed.
Expected<Lit> developed(casebook::Casebook& book, const LightOfFile& file, const Progress& progress) {
    auto srgb = srgb_of(book, file.sha256, progress.part(0.0, 0.8));
    if (!srgb) return pass_on(srgb);
    if (file.board.empty()) return Lit{*std::move(srgb), ""};
    const auto fall = flat_field_of_file(file.board, imaging::RawRendering::view, progress.part(0.8, 1.0));
    if (!fall) return pass_on(fall);
    auto even = imaging::evened(*srgb, *fall);
    if (!even) return pass_on(even);
    return Lit{*std::move(even), evened_sentence(*fall)};
}

// In the light that its chart was measured in (measure_chart): a raw file in the camera's own colours.
Expected<Lit> corrected(casebook::Casebook& book, const LightOfFile& file, const Progress& progress) {
    auto linear = coloured_light_of(book.original_path(file.sha256), progress.part(0.0, 0.5));
    if (!linear) return pass_on(linear);
    std::string evened;
    if (!file.board.empty()) {
        const auto fall = flat_field_of_file(file.board, imaging::RawRendering::camera_linear, progress.part(0.5, 0.6));
        if (!fall) return pass_on(fall);
        linear = imaging::evened(*linear, *fall);
        if (!linear) return pass_on(linear);
        evened = evened_sentence(*fall);
    }
    auto srgb = imaging::corrected_by_chart(*linear, file.chart->transform, file.chart->light, progress.part(0.6, 1.0));
    if (!srgb) return pass_on(srgb);
    return Lit{*std::move(srgb), std::move(evened)};
}

}  // namespace

Expected<PlacedPair> coloured_pair(casebook::Casebook& book, const Uuid& first, const Uuid& second) {
    // Asked before placement: there is no use in placing what is not compared anyway.
    for (const Uuid& each : {first, second})
        if (const auto fine = check_light(book, each); !fine) return pass_on(fine);
    return placed_pair(book, first, second);
}

std::vector<std::string> guessed_lights(const PlacedPair& pair) {
    std::vector<std::string> out{guessed_light_sentence(pair.first.record, "the first photograph"),
                                 guessed_light_sentence(pair.second.record, "the second photograph")};
    std::erase(out, "");
    return out;
}

bool both_cross_polarised(const PlacedPair& pair) {
    return pair.first.record.body.text_or("light") == "cross-polarised" &&
           pair.second.record.body.text_or("light") == "cross-polarised";
}

Expected<PlacedPixels> read_light(casebook::Casebook& book, const LightOfFile& file, const Placement& face_from_photo,
                                  const Progress& progress) {
    auto lit = file.chart != nullptr ? corrected(book, file, progress) : developed(book, file, progress);
    if (!lit) return pass_on(lit);
    PlacedPixels placed{imaging::shrunk_to_fit(lit->srgb, longest_compared_side_px), {}, std::move(lit->evened)};
    const auto smaller = of_smaller(face_from_photo, lit->srgb.size(), placed.pixels.size());
    if (!smaller) return pass_on(smaller);
    placed.placement = *smaller;
    return placed;
}

Expected<PlacedPixels> read_placed(casebook::Casebook& book, const PlacedPhotograph& photograph,
                                   const LightWanted& light, const Progress& progress) {
    const auto board = light.evened ? board_of(book, photograph.record) : std::filesystem::path();
    return read_light(book, {photograph.record.body.text_or("sha256"), board, light.chart}, photograph.face_from_photo,
                      progress);
}

}  // namespace tedge::usecases
