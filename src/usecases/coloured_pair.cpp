#include "coloured_pair.hpp"

#include <fmt/format.h>

#include "board_light.hpp"
#include "laid_over.hpp"
#include "tedge/casebook/frames.hpp"
#include "tedge/casebook/photograph_words.hpp"
#include "tedge/imaging/picture.hpp"
#include "tedge/imaging/shrink.hpp"
#include "tedge/imaging/srgb_view.hpp"

namespace tedge::usecases {

namespace {

using casebook::Record;
using imaging::Raster8;

Expected<Record> coloured(casebook::Casebook& book, const Uuid& id) {
    const auto record = book.record(id);
    if (!record) return pass_on(record);
    if (record->kind != "photograph" || record->deleted)
        return fail("photograph.not-a-photograph", "This record is not a photograph.", "Choose a photograph.");
    if (const std::string light = record->body.text_or("light"); !casebook::shows_colour(light))
        return fail("photograph.no-colour-light",
                    fmt::format("A photograph in {} light does not show what colour the surface has.", light),
                    "Choose photographs in normal or cross-polarised light.", {{"light", light}});
    return *record;
}

}  // namespace

Expected<ColouredPair> coloured_pair(casebook::Casebook& book, const Uuid& reference, const Uuid& second) {
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
    return ColouredPair{*a, *b, *std::move(snapshot), frame, face};
}

bool both_cross_polarised(const ColouredPair& pair) {
    return pair.first.body.text_or("light") == "cross-polarised" &&
           pair.second.body.text_or("light") == "cross-polarised";
}

Expected<PlacedPixels> read_placed(casebook::Casebook& book, const casebook::CaseSnapshot& snapshot, Record record,
                                   const Uuid& frame, const Progress& progress, Light light) {
    const auto placement = casebook::placement_on_frame(snapshot, record, frame);
    if (!placement)
        return fail("photograph.not-placed", "Nothing says where one of the two lies on the other.",
                    "Lay one over the other first.", {{"photograph", to_text(record.id)}});
    const auto picture =
        imaging::read_picture(book.original_path(record.body.text_or("sha256")), {}, progress.part(0.0, 0.7));
    if (!picture) return pass_on(picture);
    auto srgb = imaging::to_srgb8(*picture, progress.part(0.7, 0.8));
    if (!srgb) return pass_on(srgb);
    std::string evened;
    if (const auto board = board_of(book, record); light == Light::evened && !board.empty()) {
        const auto fall = flat_field_of_file(board, imaging::RawRendering::view, progress.part(0.8, 1.0));
        if (!fall) return pass_on(fall);
        srgb = imaging::evened(*srgb, *fall);
        if (!srgb) return pass_on(srgb);
        evened = evened_sentence(*fall);
    }
    PlacedPixels placed{
        std::move(record), imaging::shrunk_to_fit(*srgb, longest_compared_side_px), {}, std::move(evened)};
    const auto smaller = of_smaller(*placement, srgb->size(), placed.pixels.size());
    if (!smaller) return pass_on(smaller);
    placed.placement = *smaller;
    return placed;
}

}  // namespace tedge::usecases
