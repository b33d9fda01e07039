// How long, wide and deep a crack is, from the picture along and across its path.
#pragma once

#include "skeleton_paths.hpp"

namespace tedge::imaging {

// The path's pixels smoothed over the steps of the grid, its two ends kept.
[[nodiscard]] std::vector<PointPx> smoothed(const std::vector<PixelXY>& pixels);

// Lines are dark in gray (1 channel).
[[nodiscard]] Crack profiled(const Raster8& gray, const SkeletonPath& path, double widest_px);

// Square to the smoothed line at its i-th point, of length 1.
[[nodiscard]] PointPx unit_across(const std::vector<PointPx>& line, std::size_t i);

}  // namespace tedge::imaging
