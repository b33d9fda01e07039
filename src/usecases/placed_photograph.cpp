#include "placed_photograph.hpp"

#include <type_traits>

#include "tedge/casebook/frames.hpp"
#include "tedge/imaging/picture.hpp"
#include "tedge/imaging/srgb_view.hpp"

namespace tedge::usecases {

namespace {

template <class ToSrgb>
std::invoke_result_t<ToSrgb, const imaging::Picture&, const Progress&> turned(const casebook::Casebook& book,
                                                                              const std::string& sha256,
                                                                              const ToSrgb& to_srgb,
                                                                              const Progress& progress) {
    const auto picture = imaging::read_picture(book.original_path(sha256), {}, progress.part(0.0, 0.7));
    if (!picture) return pass_on(picture);
    return to_srgb(*picture, progress.part(0.7, 1.0));
}

}  // namespace

Expected<PlacedPhotograph> placed_photograph(casebook::Casebook& book, const casebook::CaseSnapshot& snapshot,
                                             const Uuid& id, const Uuid& frame) {
    auto record = existing_photograph(book, id);
    if (!record) return pass_on(record);
    const Uuid on = frame == Uuid{} ? record->body.record("face_frame").value_or(Uuid{}) : frame;
    const auto placement = casebook::placement_on_frame(snapshot, *record, on);
    const auto width = record->body.integer("width_px");
    const auto height = record->body.integer("height_px");
    if (snapshot.find(on) == nullptr || !placement || !width || !height) return not_placed(id);
    const SizePx size{static_cast<int>(*width), static_cast<int>(*height)};
    return PlacedPhotograph{*std::move(record), *placement, size};
}

std::unexpected<Error> not_placed(const Uuid& photograph) {
    return fail("photograph.not-placed", "Nothing says where this photograph lies on the face.",
                "Place it by its corners, or lay it over one that is placed.", {{"photograph", to_text(photograph)}});
}

Expected<imaging::Raster8> srgb_of(const casebook::Casebook& book, const std::string& sha256,
                                   const Progress& progress) {
    return turned(book, sha256, imaging::to_srgb8, progress);
}

Expected<imaging::Raster16> srgb16_of(const casebook::Casebook& book, const std::string& sha256,
                                      const Progress& progress) {
    return turned(book, sha256, imaging::to_srgb16, progress);
}

}  // namespace tedge::usecases
