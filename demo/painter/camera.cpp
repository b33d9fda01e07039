#include "camera.hpp"

#include <cmath>
#include <numbers>

namespace tedge::painter {

PointPx Lens::undistorted(PointPx photo) const {
    const double x = (photo.x_px - centre_x_px) / focal_px;
    const double y = (photo.y_px - centre_y_px) / focal_px;
    const double r2 = x * x + y * y;
    const double radial = k1 * r2 + k2 * r2 * r2;
    const double ux = x + x * radial + p1 * (r2 + 2.0 * x * x) + 2.0 * p2 * x * y;
    const double uy = y + y * radial + p2 * (r2 + 2.0 * y * y) + 2.0 * p1 * x * y;
    return {ux * focal_px + centre_x_px, uy * focal_px + centre_y_px};
}

Camera Camera::placed(SizePx size, Lens lens, const Pose& pose) {
    const double degree = std::numbers::pi / 180.0;
    const double cp = std::cos(pose.pan_deg * degree), sp = std::sin(pose.pan_deg * degree);
    const double ct = std::cos(pose.tilt_deg * degree), st = std::sin(pose.tilt_deg * degree);
    const double cr = std::cos(pose.roll_deg * degree), sr = std::sin(pose.roll_deg * degree);
    // Columns of roll · tilt · pan: where the face's x and y point in the camera's frame (x right, y down, z ahead).
    const double xx = cr * cp - sr * st * sp, xy = sr * cp + cr * st * sp, xz = -ct * sp;
    const double yx = -sr * ct, yy = cr * ct, yz = st;
    const double distance_mm = lens.focal_px / pose.px_per_mm;
    const double f = lens.focal_px;
    const double tx = -(xx * pose.look_at.x_mm + yx * pose.look_at.y_mm);
    const double ty = -(xy * pose.look_at.x_mm + yy * pose.look_at.y_mm);
    const double tz = distance_mm - (xz * pose.look_at.x_mm + yz * pose.look_at.y_mm);
    const double cx = lens.centre_x_px, cy = lens.centre_y_px;
    const auto photo_from_face =
        Homography::from_row_major({f * xx + cx * xz, f * yx + cx * yz, f * tx + cx * tz, f * xy + cy * xz,
                                    f * yy + cy * yz, f * ty + cy * tz, xz, yz, tz});
    return {size, lens, photo_from_face.value().inverse()};
}

PointMm Camera::to_face(PointPx photo) const {
    const PointPx straight = lens.undistorted(photo);
    const auto face = face_from_undistorted.apply(straight.x_px, straight.y_px);
    return {face[0], face[1]};
}

PointPx Camera::to_photo(PointMm face) const {
    const auto start = face_from_undistorted.inverse().apply(face.x_mm, face.y_mm);
    PointPx at{start[0], start[1]};
    for (int step = 0; step < 30; ++step) {
        const PointMm here = to_face(at);
        const PointMm right = to_face({at.x_px + 0.5, at.y_px});
        const PointMm below = to_face({at.x_px, at.y_px + 0.5});
        const double a = 2.0 * (right.x_mm - here.x_mm), b = 2.0 * (below.x_mm - here.x_mm);
        const double c = 2.0 * (right.y_mm - here.y_mm), d = 2.0 * (below.y_mm - here.y_mm);
        const double ex = face.x_mm - here.x_mm, ey = face.y_mm - here.y_mm;
        const double determinant = a * d - b * c;
        const double dx = (d * ex - b * ey) / determinant, dy = (a * ey - c * ex) / determinant;
        at = {at.x_px + dx, at.y_px + dy};
        if (std::hypot(dx, dy) < 1e-9) break;
    }
    return at;
}

}  // namespace tedge::painter
