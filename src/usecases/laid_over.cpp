#include "laid_over.hpp"

namespace tedge::usecases {

Expected<Placement> of_smaller(Placement placement, SizePx original, SizePx smaller) {
    const double fx = static_cast<double>(original.width_px) / smaller.width_px;
    const double fy = static_cast<double>(original.height_px) / smaller.height_px;
    const auto original_from_smaller = Homography::from_row_major({fx, 0, (fx - 1) / 2, 0, fy, (fy - 1) / 2, 0, 0, 1});
    if (!original_from_smaller) return pass_on(original_from_smaller);
    const auto plane = compose(placement.face_from_photo, *original_from_smaller);
    if (!plane) return pass_on(plane);
    placement.face_from_photo = *plane;
    return placement;
}

Expected<imaging::PixelMap> reference_from_moving(const Placement& reference, const Placement& moving, SizePx size) {
    const auto plane = compose(reference.face_from_photo.inverse(), moving.face_from_photo);
    if (!plane) return pass_on(plane);
    if (!reference.displacement && !moving.displacement) return imaging::PixelMap{*plane, std::nullopt};
    const auto exact = [&](PointPx pixel) -> std::optional<PointMm> {
        const auto there = reference.to_photo(moving.to_face(pixel));
        if (!there) return std::nullopt;
        return PointMm{there->x_px, there->y_px};
    };
    // The lattice of a placement, its lengths in pixels of the reference (registration.hpp).
    const BoxMm over{{0.0, 0.0}, {static_cast<double>(size.width_px), static_cast<double>(size.height_px)}};
    const auto along = placement_along(*plane, exact, over, 0.0);  // as fine as the lattice may be
    if (!along) return pass_on(along);
    return imaging::PixelMap{along->face_from_photo, along->displacement};
}

}  // namespace tedge::usecases
