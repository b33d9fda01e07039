// Whether what the photographs show repeats itself, so that they fit equally well some repeats further on.
#pragma once

#include "registration_levels.hpp"

namespace tedge::imaging {

struct LaidPair {
    const GrayPyramid& reference;
    const GrayPyramid& moving;
    const PixelMap& map;
    TileStyle style;
    int workers;
};

// How far the match stands out over the next best place, as height of the peak over the highest elsewhere: the smaller
// of the middle tile's of the first round, which tells of repeats up to a quarter of a tile apart, and the middle one's
// of a few tiles as wide as the picture or half of it, which tell of those up to a seventh of the picture and more.
// Without meaning when progress says stop.
[[nodiscard]] double distinctness(const LevelResult& first, const LaidPair& pair, const Progress& progress);

}  // namespace tedge::imaging
