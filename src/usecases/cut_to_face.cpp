#include "cut_to_face.hpp"

#include <algorithm>

#include "window_mask.hpp"

namespace tedge::usecases {

namespace {

using imaging::Raster8;

struct Box {
    int left = 0;
    int top = 0;
    SizePx size;
};

// Around what is not 0; of an empty mask the whole of it.
Box box_around(const Raster8& mask) {
    int left = mask.width_px(), right = 0, top = mask.height_px(), bottom = 0;
    for (int y = 0; y < mask.height_px(); ++y)
        for (int x = 0; x < mask.width_px(); ++x) {
            if (mask.at(x, y) == 0) continue;
            left = std::min(left, x);
            right = std::max(right, x + 1);
            top = std::min(top, y);
            bottom = y + 1;
        }
    if (right <= left) return {0, 0, mask.size()};
    return {left, top, {right - left, bottom - top}};
}

Raster8 cut(const Raster8& from, const Box& box) {
    Raster8 out(box.size.width_px, box.size.height_px, from.channels());
    for (int y = 0; y < out.height_px(); ++y)
        std::copy_n(&from.at(box.left, box.top + y), out.row_samples(), out.row(y));
    return out;
}

}  // namespace

Expected<FaceAlone> cut_to_face(PlacedPixels whole, SizeMm face) {
    // A corner that was pointed at is the middle of a pixel of the face: with it, not beside it.
    constexpr double rim_mm = 1e-3;
    const auto all_of_it =
        Region::rectangle({-rim_mm, -rim_mm}, {face.width_mm + 2 * rim_mm, face.height_mm + 2 * rim_mm});
    if (!all_of_it) return pass_on(all_of_it);
    auto mask = window_mask({*all_of_it}, whole.placement, whole.pixels.size());
    if (!mask) return pass_on(mask);
    std::ranges::replace_if(mask->samples(), [](std::uint8_t inside) { return inside != 0; }, std::uint8_t{255});
    const Box box = box_around(*mask);
    const auto whole_from_cut =
        Homography::from_row_major({1, 0, static_cast<double>(box.left), 0, 1, static_cast<double>(box.top), 0, 0, 1});
    if (!whole_from_cut) return pass_on(whole_from_cut);
    const auto face_from_cut = compose(whole.placement.face_from_photo, *whole_from_cut);
    if (!face_from_cut) return pass_on(face_from_cut);
    FaceAlone out{std::move(whole), cut(*mask, box), {static_cast<double>(box.left), static_cast<double>(box.top)}};
    out.placed.pixels = cut(out.placed.pixels, box);
    out.placed.placement.face_from_photo = *face_from_cut;
    return out;
}

}  // namespace tedge::usecases
