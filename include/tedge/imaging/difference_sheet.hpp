// A map of differences as a picture that can be handed on: the map, and below it its scale and what must be said of it.
#pragma once

#include <string>
#include <vector>

#include "tedge/imaging/difference_scale.hpp"

namespace tedge::imaging {

// `map` as draw_differences gives it, unchanged at the top; below it on white the scale with its figures under `unit`
// ("dE00"), then the lines, broken where they are too long. Letters beyond ASCII are written in ASCII: ΔE is dE, ± is
// +/-, what has no such form is a question mark. An empty map comes back as it is.
[[nodiscard]] Raster8 with_legend(const Raster8& map, const DifferenceScale& scale, const std::string& unit,
                                  const std::vector<std::string>& lines);

}  // namespace tedge::imaging
