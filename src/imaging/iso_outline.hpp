// The outline of where a field is above a level, to a fraction of a pixel, and as a region of the face.
#pragma once

#include <functional>
#include <vector>

#include "tedge/geometry/region.hpp"
#include "tedge/imaging/raster.hpp"

namespace tedge::imaging {

// Closed rings in pixels of the field (1 channel), by marching squares with linear interpolation along the edges of the
// pixel lattice (Lorensen and Cline, Computer Graphics 21(4), 1987, in the plane; from memory). Outside the field
// counts as below. Outer rings have a negative signed area, x to the right and y down; holes a positive one.
[[nodiscard]] std::vector<std::vector<PointPx>> iso_rings(const RasterF& field, float level);

[[nodiscard]] double signed_area_px2(const std::vector<PointPx>& ring);

// One region for each outer ring, with its holes taken out, largest first. Rings of less than least_mm2 are left out,
// holes as well. Corners are thinned to within a fifth of a pixel.
[[nodiscard]] std::vector<Region> outlined_regions(const RasterF& field, float level, double least_mm2,
                                                   const std::function<PointMm(PointPx)>& face_from_field);

}  // namespace tedge::imaging
