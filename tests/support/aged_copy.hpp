// A copy of a photograph made as a lens, old varnish and a camera would make it, every step otherwise than
// under_varnish() makes it, and with the truth known everywhere.
#pragma once

#include <array>
#include <cstdint>

#include "tedge/geometry/coordinates.hpp"
#include "tedge/geometry/homography.hpp"
#include "tedge/imaging/raster.hpp"

namespace tedge::test_support {

// reference_from_copy: the lens's radial distortion about the middle of the copy, then the plane map, then a canvas
// that bellies out about a point left of the middle and above it.
struct OldView {
    Homography plane;
    SizePx size;            // of the copy and of the reference
    double lens = 0.0;      // by this share further out at half the diagonal; goes with the square of the radius
    double belly_px = 0.0;  // the largest displacement
    double belly_reach_px = 200.0;  // where it is

    [[nodiscard]] PointPx operator()(PointPx copy) const;
};

// Resin that has turned brown: Beer and Lambert's law with a density that rises towards the blue, light going through
// twice, thicker here and thinner there; its surface scatters white light back.
struct OldResin {
    std::array<double, 3> density{};  // decadic, once through, in red, green, blue, where it has its mean thickness
    double veil = 0.0;                // share of the light
};

// Photons counted one by one, then the amplifier's noise, then a file with coarse colour (4:2:0).
struct OldCamera {
    double electrons = 0.0;  // at white
    double read_electrons = 0.0;
    int jpeg_quality = 75;
};

// What is made otherwise; the rest is as under_varnish() and varnished_view() make it. Strength 1 is common, 2 is bad.
struct CopyRecipe {
    bool lens = false;    // OldView, every pixel the mean of its square in linear light
    bool resin = false;   // OldResin
    bool camera = false;  // OldCamera
    int strength = 1;
};

struct AgedCopy {
    imaging::Raster8 picture;
    OldView truth;
};

// Deterministic on any number of threads. The JPEG file is written and read by the project's own encoder and decoder.
[[nodiscard]] AgedCopy aged_copy(const imaging::Raster8& reference, const CopyRecipe& recipe);

}  // namespace tedge::test_support
