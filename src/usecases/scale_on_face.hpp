// Lengths on the face, as a placed photograph shows them.
#pragma once

#include "tedge/geometry/placement.hpp"

namespace tedge::usecases {

[[nodiscard]] double length_on_face_mm(const Placement& face_from_photo, PointPx from, PointPx to);

// By the area that one pixel covers there.
[[nodiscard]] double px_per_mm_at(const Placement& face_from_photo, PointPx at);

}  // namespace tedge::usecases
