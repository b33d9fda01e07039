#include "scale_on_face.hpp"

#include <algorithm>
#include <cmath>

namespace tedge::usecases {

double length_on_face_mm(const Placement& face_from_photo, PointPx from, PointPx to) {
    const PointMm a = face_from_photo.to_face(from), b = face_from_photo.to_face(to);
    return std::hypot(b.x_mm - a.x_mm, b.y_mm - a.y_mm);
}

double px_per_mm_at(const Placement& face_from_photo, PointPx at) {
    const PointMm here = face_from_photo.to_face(at);
    const PointMm right = face_from_photo.to_face({at.x_px + 1, at.y_px});
    const PointMm below = face_from_photo.to_face({at.x_px, at.y_px + 1});
    const double area_mm2 =
        (right.x_mm - here.x_mm) * (below.y_mm - here.y_mm) - (right.y_mm - here.y_mm) * (below.x_mm - here.x_mm);
    return 1.0 / std::sqrt(std::max(1e-12, std::abs(area_mm2)));
}

}  // namespace tedge::usecases
