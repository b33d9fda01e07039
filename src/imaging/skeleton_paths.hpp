// A skeleton taken apart into paths between its ends and crossings.
#pragma once

#include <vector>

#include "tedge/imaging/crack_map.hpp"
#include "tedge/imaging/raster.hpp"

namespace tedge::imaging {

struct SkeletonPath {
    std::vector<PixelXY> pixels;  // in order; both ends belong to it, so paths share the pixel of a crossing
    bool free_start = false;      // nothing goes on there
    bool free_end = false;
};

// mask: what thin() leaves. Every pixel comes into a path, a pixel standing alone excepted. In the order of rows.
[[nodiscard]] std::vector<SkeletonPath> paths_of(const Raster8& mask);

// Away from the picture's edge, where a line may well go on.
[[nodiscard]] bool dangling(const SkeletonPath& path, SizePx size);

}  // namespace tedge::imaging
