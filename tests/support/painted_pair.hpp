// An invented painting that can be looked at from anywhere: a colour for every point of the plane, so a photograph of
// it moved by a known amount is exact and needs no resampling.
#pragma once

#include <array>
#include <cstdint>

#include "tedge/geometry/coordinates.hpp"
#include "tedge/geometry/homography.hpp"
#include "tedge/imaging/raster.hpp"

namespace tedge::test_support {

// Layers of strokes from broad to fine; stroke_px is the pitch of the broadest, in pixels of the reference.
struct PaintedScene {
    std::uint64_t seed = 1;
    double stroke_px = 120.0;
    int layers = 4;
    // A copyist: layers from the one so numbered on are of his hand, and he strays by so much from the outlines.
    std::uint64_t copyist = 0;
    int own_layers_from = 99;
    double strays_px = 0.0;

    // Display-encoded red, green, blue, 0 to 1.
    [[nodiscard]] std::array<double, 3> colour(PointPx at) const;
};

// reference_from_moving: a homography, then a smooth bend of bend_px amplitude and bend_length_px wavelength.
struct KnownMove {
    Homography homography;
    double bend_px = 0.0;
    double bend_length_px = 1000.0;

    [[nodiscard]] PointPx operator()(PointPx moving) const;
};

// Turned by degrees about its middle, enlarged by scale (moving over reference), with a perspective that changes the
// scale by `perspective` from edge to middle, and its middle looking at the middle of the reference plus shift.
// mirrored: seen from behind.
struct Viewpoint {
    double degrees = 0.0;
    double scale = 1.0;
    double perspective = 0.0;
    PointPx shift{};
    bool mirrored = false;
};
[[nodiscard]] Homography seen_from(const Viewpoint& viewpoint, SizePx reference, SizePx moving);

// What happened to the surface and in the camera.
struct Ageing {
    std::array<double, 3> transmittance{1.0, 1.0,
                                        1.0};  // of the varnish, in linear light, where it has its mean thickness
    double haze = 0.0;                         // scattered light added, linear
    double repainted_share = 0.0;              // of the surface, in blotches, under other strokes
    bool inverted = false;                     // dark glows and bright does not, as under ultraviolet
    double noise = 0.0;                        // deviation in 8-bit values
    double raking = 0.0;                       // light from the left over paint as thick as it is bright; 1 is strong
};
inline constexpr Ageing old_varnish{{0.72, 0.58, 0.33}, 0.03, 0.0, false, 2.0, 0.0};

// Deterministic on any number of threads (noise from counters).
[[nodiscard]] imaging::Raster8 photograph(const PaintedScene& scene, SizePx size, const KnownMove& move,
                                          const Ageing& ageing, std::uint64_t seed, int threads = 1);

// Uniform in [0, 1) from a counter.
[[nodiscard]] double counted(std::uint64_t seed, std::int64_t a, std::int64_t b, std::uint64_t c = 0);

}  // namespace tedge::test_support
