// Brightness checked against colour, for pictures lit from one side.
#pragma once

#include <optional>

#include "registration_levels.hpp"

namespace tedge::imaging {

// Light from one side shades the slopes of brushwork, and shading moves every edge the same way: brightness alone
// cannot tell it from a shift of the picture. But shading leaves the ratio of the channels alone. So where the colours
// of some hundred tiles lie beside the map on the whole, all in one direction and by far more than chance, the map is
// made anew from colour. Empty when there is no colour, no such shift, or progress says stop.
[[nodiscard]] std::optional<LevelResult> match_by_colour(const PictureView& reference, const PictureView& moving,
                                                         const PixelMap& map, int workers, const Progress& progress);

}  // namespace tedge::imaging
