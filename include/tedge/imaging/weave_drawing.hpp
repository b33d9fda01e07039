// The map of a weave as a picture.
#pragma once

#include "tedge/imaging/raster.hpp"
#include "tedge/imaging/thread_count.hpp"

namespace tedge::imaging {

// Counts from `low` (darkest) to `high` (brightest), in the colours of difference_scale.hpp.
struct WeaveScale {
    double low_per_cm = 0.0;
    double high_per_cm = 0.0;
};

struct DrawnWeave {
    Raster8 drawn;  // 3 channels: set a at the left, set b at the right, as the squares lie in the photograph
    WeaveScale a;
    WeaveScale b;
};

// One set alone, its pixels in even blocks of the photograph.
struct DrawnThreads {
    Raster8 drawn;
    WeaveScale scale;
    int block_px = 1;
    Homography photo_from_drawn;  // pixels to pixels: a block has its square's centre in its middle
};

// One block for each square; in it a short line along the threads, turned five times as far from their mean direction
// as they are, so that cusping is seen. Squares that are not trusted are grey. An empty map: one grey pixel for each
// set.
[[nodiscard]] DrawnWeave draw_weave(const ThreadCount& count);

// The same of one set: a (counted across), or b.
[[nodiscard]] DrawnThreads draw_threads(const ThreadCount& count, bool across);

}  // namespace tedge::imaging
