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

// Whether the match does not stand out over the next best place. Asked of the tiles of the first round, which tell of
// repeats up to a quarter of a tile apart, and of a few as wide as the picture or half of it, which tell of those up to
// a seventh of the picture and more. Without meaning when progress says stop.
[[nodiscard]] bool repeats_itself(const LevelResult& first, const LaidPair& pair, const Progress& progress);

}  // namespace tedge::imaging
