#include "tedge/geometry/placement.hpp"

#include <algorithm>
#include <cmath>

namespace tedge {

namespace {

PointMm plus(PointMm a, PointMm b) {
    return {a.x_mm + b.x_mm, a.y_mm + b.y_mm};
}

PointMm minus(PointMm a, PointMm b) {
    return {a.x_mm - b.x_mm, a.y_mm - b.y_mm};
}

constexpr double most_cells = 64.0;

struct Lattice {
    PointMm origin;
    double spacing_mm = 1.0;
    int columns = 4;
    int rows = 4;
};

// Knots 1 and count - 2 stand at the edges of the box or just outside.
Lattice lattice_over(const BoxMm& box, double spacing_mm) {
    const double width = box.max.x_mm - box.min.x_mm;
    const double height = box.max.y_mm - box.min.y_mm;
    Lattice lattice;
    lattice.spacing_mm = std::max(spacing_mm, std::max(width, height) / most_cells);
    lattice.columns = static_cast<int>(std::ceil(width / lattice.spacing_mm)) + 3;
    lattice.rows = static_cast<int>(std::ceil(height / lattice.spacing_mm)) + 3;
    lattice.origin = {box.min.x_mm - lattice.spacing_mm, box.min.y_mm - lattice.spacing_mm};
    return lattice;
}

}  // namespace

Expected<Placement> placement_along(const Homography& plane,
                                    const std::function<std::optional<PointMm>(PointPx)>& exact, const BoxMm& over,
                                    double spacing_mm) {
    const Homography back = plane.inverse();
    bool known = true;
    const auto left_over = [&](PointMm q) {
        const auto [x, y] = back.apply(q.x_mm, q.y_mm);
        const auto point = exact({x, y});
        known = known && point.has_value();
        return minus(point.value_or(q), q);
    };
    const Lattice lattice = lattice_over(over, spacing_mm);
    const auto fitted =
        BsplineDisplacement::through(lattice.origin, lattice.spacing_mm, lattice.columns, lattice.rows, left_over);
    if (!fitted) return pass_on(fitted);
    Placement placement;
    placement.face_from_photo = plane;
    placement.displacement = *fitted;
    for (int row = 1; row < lattice.rows - 2; ++row) {
        for (int column = 1; column < lattice.columns - 2; ++column) {
            const PointMm between{lattice.origin.x_mm + (column + 0.5) * lattice.spacing_mm,
                                  lattice.origin.y_mm + (row + 0.5) * lattice.spacing_mm};
            const PointMm off = minus(left_over(between), fitted->at(between));
            placement.error_mm = std::max(placement.error_mm, std::hypot(off.x_mm, off.y_mm));
        }
    }
    if (!known) {
        return fail("geometry.no-inverse", "The map has no value everywhere on the face.",
                    "Register the photograph again.");
    }
    return placement;
}

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
