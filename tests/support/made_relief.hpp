// A made panel of 120 × 90 mm in raking light: an invented painting (its colours) times the light on a made height
// field by Lambert's law, lamp at 12 degrees on the left. Some of its cups stay, some are flattened, others are new.
#pragma once

#include <cstdint>
#include <vector>

#include "tedge/geometry/coordinates.hpp"
#include "tedge/imaging/raster.hpp"

namespace tedge::test_support {

inline constexpr SizePx relief_size{480, 360};
inline constexpr double relief_mm_per_px = 0.25;

// A raised rim around a hollow.
struct Cup {
    PointMm middle;
    double radius_mm = 5.0;
    double height_mm = 0.25;
};

inline const std::vector<Cup> staying{{{20, 20}}, {{60, 70}}, {{100, 20}, 6.0, 0.2}, {{20, 70}, 4.0, 0.2}};
inline const std::vector<Cup> flattened{{{60, 20}}, {{100, 68}, 6.0, 0.3}};
inline const std::vector<Cup> lifted{{{36, 46}}, {{80, 44}, 6.0, 0.3}};

// As photographed: seen shift_px further to the right, with grain of its own.
[[nodiscard]] imaging::Raster8 raking(const std::vector<std::vector<Cup>>& cups, double shift_px, std::uint64_t seed,
                                      double exposure = 1.0, double contrast = 0.35);

}  // namespace tedge::test_support
