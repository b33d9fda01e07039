// Where the corners of a face are seen in a photograph, before anything is placed by them.
#pragma once

#include <array>

#include "tedge/base/error.hpp"
#include "tedge/casebook/record.hpp"
#include "tedge/geometry/coordinates.hpp"

namespace tedge::usecases {

// Corners clockwise from the top left as one looks at the face. One that was cut off may be said outside the
// photograph, by as much as the photograph is long. Errors: photograph.corners-crossed, photograph.corners-mirrored,
// photograph.corners-off.
[[nodiscard]] Expected<void> check_corners(const std::array<PointPx, 4>& corners, const casebook::Body& photograph);

}  // namespace tedge::usecases
