// The small, locally normalised copy of a picture in which features are looked for.
#pragma once

#include <opencv2/core.hpp>

#include "registration_gray.hpp"
#include "tedge/base/progress.hpp"
#include "tile_match.hpp"

namespace tedge::imaging {

struct SmallCopy {
    cv::Mat image;  // 8 bit, local mean 128, local deviation 45
    double picture_per_small_x = 1.0;
    double picture_per_small_y = 1.0;
};

// Empty when progress says stop.
[[nodiscard]] SmallCopy small_copy(const GrayPyramid& picture, TileSignal signal, int longest_side, bool mirrored,
                                   const Progress& progress = {});

}  // namespace tedge::imaging
