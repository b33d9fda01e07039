// How much like a line every pixel is: darker than both its sides along a short straight piece, at several widths.
#pragma once

#include <vector>

#include "tedge/base/progress.hpp"
#include "tedge/imaging/raster.hpp"

namespace tedge::imaging {

// Depths are kept as whole numbers of 1/64 of an 8-bit step.
inline constexpr float depth_units = 64.0F;

// Level 0 is the picture itself, each further one half as wide: the same detector then answers to lines twice as wide.
struct LineLevels {
    std::vector<Raster8> gray;    // 1 channel
    std::vector<Raster16> depth;  // the size of its gray
};

// gray has 1 channel; lines are dark in it. Every tile by itself, so the number of threads changes nothing.
// Errors: cancelled.
[[nodiscard]] Expected<LineLevels> line_levels(Raster8 gray, int levels, const Progress& progress);

}  // namespace tedge::imaging
