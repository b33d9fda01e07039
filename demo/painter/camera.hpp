// A camera over a plane: perspective, the lens's distortion, the sensor's noise.
#pragma once

#include <cstdint>

#include "tedge/geometry/coordinates.hpp"
#include "tedge/geometry/homography.hpp"

namespace tedge::painter {

// Corrections to measured places as D. C. Brown wrote them ("Close-Range Camera Calibration", Photogrammetric
// Engineering 37(8), 855-866, 1971; from memory), two radial and two decentring terms. With (x, y) = (photo - centre) /
// focal and r² = x² + y²:
//   undistorted x = x + x (k1 r² + k2 r⁴) + p1 (r² + 2 x²) + 2 p2 x y
//   undistorted y = y + y (k1 r² + k2 r⁴) + p2 (r² + 2 y²) + 2 p1 x y
// scaled back by focal and centre: undistorted pixels.
struct Lens {
    double centre_x_px = 0.0;
    double centre_y_px = 0.0;
    double focal_px = 1.0;
    double k1 = 0.0, k2 = 0.0, p1 = 0.0, p2 = 0.0;

    [[nodiscard]] PointPx undistorted(PointPx photo) const;
};

struct Pose {
    double px_per_mm = 7.5;  // at the place looked at
    PointMm look_at;         // seen at the middle of the photograph
    double pan_deg = 0.0;    // the camera stands to the left of the face's normal when positive
    double tilt_deg = 0.0;   // the camera stands above when positive
    double roll_deg = 0.0;   // the picture leans clockwise when positive
};

struct Camera {
    SizePx size;
    Lens lens;
    Homography face_from_undistorted;

    [[nodiscard]] static Camera placed(SizePx size, Lens lens, const Pose& pose);

    [[nodiscard]] PointMm to_face(PointPx photo) const;
    [[nodiscard]] PointPx to_photo(PointMm face) const;  // by Newton's steps on to_face, to 1e-9 px
};

}  // namespace tedge::painter
