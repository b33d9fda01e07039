// Means over square surroundings.
#pragma once

#include "tedge/imaging/raster.hpp"

namespace tedge::imaging {

// Of the pixels within radius_px both ways that lie in the picture. 1 channel. Sums are kept in double and in one
// order, so the result depends on nothing but the picture.
[[nodiscard]] RasterF local_mean(const RasterF& plane, int radius_px);

}  // namespace tedge::imaging
