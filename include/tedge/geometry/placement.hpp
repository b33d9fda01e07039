// Where a photograph lies on a face: `face_from_photo`, the only transform that is ever stored.
#pragma once

#include <functional>
#include <optional>

#include "tedge/base/error.hpp"
#include "tedge/geometry/coordinates.hpp"
#include "tedge/geometry/displacement.hpp"
#include "tedge/geometry/homography.hpp"

namespace tedge {

// face point = q + displacement(q) with q = homography(photo pixel).
class Placement {
public:
    Homography face_from_photo;                       // px to mm
    std::optional<BsplineDisplacement> displacement;  // over the face, in mm
    double error_mm = 0.0;                            // estimated, one standard deviation, over the placed area

    [[nodiscard]] PointMm to_face(PointPx pixel) const;

    // By fixed-point iteration on the displacement until the step is below 1e-3 px of the photograph.
    // Errors: geometry.no-inverse when it does not settle within 50 steps (a folded displacement).
    [[nodiscard]] Expected<PointPx> to_photo(PointMm point) const;
};

// The placement that follows `exact` over a box of the face: `plane` and the displacement that it leaves over, on a
// lattice of about this spacing (at most 64 cells along a side). error_mm is its largest deviation from `exact` between
// the knots. `exact` answers nothing where it has no value.
// Errors: geometry.no-inverse (no value somewhere in the box), geometry.bad-lattice.
[[nodiscard]] Expected<Placement> placement_along(const Homography& plane,
                                                  const std::function<std::optional<PointMm>(PointPx)>& exact,
                                                  const BoxMm& over, double spacing_mm);

// A photograph that shows the face and nothing else, corner to corner, with no perspective.
[[nodiscard]] Placement placement_filling(SizePx photo, SizeMm face);

}  // namespace tedge
