#include "tedge/usecases/map_colour_difference.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "laid_over.hpp"
#include "tedge/casebook/frames.hpp"
#include "tedge/casebook/photograph_words.hpp"
#include "tedge/imaging/picture.hpp"
#include "tedge/imaging/registration.hpp"
#include "tedge/imaging/shrink.hpp"
#include "tedge/imaging/srgb_view.hpp"

namespace tedge::usecases {

namespace {

using casebook::Record;
using imaging::Raster8;

// Two of fifty megapixels and their differences would fill the memory of a small machine; no screen shows more.
constexpr int longest_side_px = 3000;
constexpr imaging::DifferenceScale usual_scale{0.0, 20.0};
constexpr std::uint8_t wholly_inside = 250;

struct Placed {
    Record record;
    Raster8 pixels;
    Placement placement;  // of these pixels, on the frame of the first
};

Expected<Record> coloured(casebook::Casebook& book, const Uuid& id) {
    const auto record = book.record(id);
    if (!record) return pass_on(record);
    if (record->kind != "photograph" || record->deleted)
        return fail("photograph.not-a-photograph", "This record is not a photograph.", "Choose a photograph.");
    if (const std::string light = record->body.text_or("light"); !casebook::shows_colour(light))
        return fail("photograph.no-colour-light",
                    fmt::format("A photograph in {} light does not show what colour the surface has.", light),
                    "Compare photographs in normal or cross-polarised light.", {{"light", light}});
    return *record;
}

Expected<Placed> read(casebook::Casebook& book, const casebook::CaseSnapshot& snapshot, Record record,
                      const Uuid& frame, const Progress& progress) {
    const auto placement = casebook::placement_on_frame(snapshot, record, frame);
    if (!placement)
        return fail("photograph.not-placed", "Nothing says where one of the two lies on the other.",
                    "Lay one over the other first.", {{"photograph", to_text(record.id)}});
    const auto picture =
        imaging::read_picture(book.original_path(record.body.text_or("sha256")), {}, progress.part(0.0, 0.7));
    if (!picture) return pass_on(picture);
    const auto srgb = imaging::to_srgb8(*picture, progress.part(0.7, 1.0));
    if (!srgb) return pass_on(srgb);
    Placed placed{std::move(record), imaging::shrunk_to_fit(*srgb, longest_side_px), {}};
    const auto smaller = of_smaller(*placement, srgb->size(), placed.pixels.size());
    if (!smaller) return pass_on(smaller);
    placed.placement = *smaller;
    return placed;
}

// On the face, and where the second photograph reaches.
Expected<Raster8> compared_part(const Placed& first, const Placed& second, const imaging::PixelMap& map, SizeMm face,
                                const Progress& progress) {
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

// The two as they are recorded, and the frame they are compared on.
struct Pair {
    Record first;
    Record second;
    casebook::CaseSnapshot snapshot;
    Uuid frame;
    SizeMm face;
};

Expected<Pair> pair_of(casebook::Casebook& book, const Uuid& reference, const Uuid& second) {
    const auto a = coloured(book, reference);
    if (!a) return pass_on(a);
    const auto b = coloured(book, second);
    if (!b) return pass_on(b);
    if (a->case_id != b->case_id || a->body.text_or("face") != b->body.text_or("face"))
        return fail("photograph.other-face", "The two do not show the same face.", "Choose two of one face.");
    auto snapshot = book.snapshot(a->case_id);
    if (!snapshot) return pass_on(snapshot);
    const Uuid frame = a->body.record("face_frame").value_or(Uuid{});
    const Record* record = snapshot->find(frame);
    if (record == nullptr)
        return fail("photograph.not-placed", "The first of the two is not placed.", "Place it by its corners first.",
                    {{"photograph", to_text(a->id)}});
    const SizeMm face{record->body.number("width_mm").value_or(0), record->body.number("height_mm").value_or(0)};
    return Pair{*a, *b, *std::move(snapshot), frame, face};
}

bool both_cross_polarised(const Pair& pair) {
    return pair.first.body.text_or("light") == "cross-polarised" &&
           pair.second.body.text_or("light") == "cross-polarised";
}

}  // namespace

Expected<ColourDifferenceMap> map_colour_difference(casebook::Casebook& book, const Uuid& reference,
                                                    const Uuid& second_id, const Progress& progress) {
    const auto pair = pair_of(book, reference, second_id);
    if (!pair) return pass_on(pair);
    const auto first = read(book, pair->snapshot, pair->first, pair->frame, progress.part(0.0, 0.3));
    if (!first) return pass_on(first);
    const auto second = read(book, pair->snapshot, pair->second, pair->frame, progress.part(0.3, 0.6));
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
