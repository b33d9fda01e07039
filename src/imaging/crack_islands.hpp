// Areas that lines close in on all sides.
#pragma once

#include <vector>

#include "tedge/imaging/raster.hpp"

namespace tedge::imaging {

// lines: other than 0 on lines one pixel wide. counted: null, or 0 where nothing was looked at. Areas of the regions
// (joined by their sides) that touch neither the picture's edge nor what was not looked at; a line's own pixels are
// shared evenly by the regions on its sides. In the order of rows. By runs of a row, so memory goes with the lines.
[[nodiscard]] std::vector<double> closed_areas_px2(const Raster8& lines, const Raster8* counted);

}  // namespace tedge::imaging
