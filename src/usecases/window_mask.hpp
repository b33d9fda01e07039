// Cleaned windows as pixels of a photograph.
#pragma once

#include <vector>

#include "tedge/geometry/placement.hpp"
#include "tedge/geometry/region.hpp"
#include "tedge/imaging/raster.hpp"

namespace tedge::usecases {

// The first region's pixels are 1, the second's 2 and so on, at most 255; where two meet the later one shows; 0 beside
// them. A pixel belongs to a region when its centre does (even-odd, as Region::outline says).
// Errors: geometry.no-inverse (a corner cannot be found in the photograph).
[[nodiscard]] Expected<imaging::Raster8> window_mask(const std::vector<Region>& windows,
                                                     const Placement& face_from_photo, SizePx photo);

}  // namespace tedge::usecases
