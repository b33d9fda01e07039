#include "tedge/geometry/placement.hpp"

#include <cmath>

namespace tedge {

namespace {

PointMm plus(PointMm a, PointMm b) {
    return {a.x_mm + b.x_mm, a.y_mm + b.y_mm};
}

}  // namespace

PointMm Placement::to_face(PointPx pixel) const {
    const auto [x, y] = face_from_photo.apply(pixel.x_px, pixel.y_px);
    const PointMm plain{x, y};
    return displacement ? plus(plain, displacement->at(plain)) : plain;
}

Expected<PointPx> Placement::to_photo(PointMm point) const {
    const Homography photo_from_face = face_from_photo.inverse();
    const auto pixel_at = [&](PointMm q) {
        const auto [x, y] = photo_from_face.apply(q.x_mm, q.y_mm);
        return PointPx{x, y};
    };
    PointMm q = point;  // the point before displacement: q + d(q) = point
    PointPx pixel = pixel_at(q);
    if (!displacement) return pixel;
    for (int step = 0; step < 50; ++step) {
        const PointMm moved = displacement->at(q);
        q = {point.x_mm - moved.x_mm, point.y_mm - moved.y_mm};
        const PointPx next = pixel_at(q);
        const double change_px = std::hypot(next.x_px - pixel.x_px, next.y_px - pixel.y_px);
        pixel = next;
        // A contraction closes in from here at least as fast as it just did, so the error left is below the step.
        if (change_px < 1e-4) return pixel;
    }
    return fail("geometry.no-inverse", "The photograph's placement folds over itself there.",
                "Register the photograph again.");
}

Placement placement_filling(SizePx photo, SizeMm face) {
    // Pixel centres at integers: the face begins half a pixel before the first centre.
    const double mm_per_px_x = face.width_mm / photo.width_px;
    const double mm_per_px_y = face.height_mm / photo.height_px;
    Placement placement;
    const auto map = compose(Homography::translation(mm_per_px_x / 2, mm_per_px_y / 2),
                             Homography::scaling(mm_per_px_x, mm_per_px_y));
    if (map) placement.face_from_photo = *map;
    return placement;
}

}  // namespace tedge
