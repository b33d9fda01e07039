// From evidence to lines: what hangs together with something sure, made thin, without what is short or weak.
#pragma once

#include "skeleton_paths.hpp"

namespace tedge::imaging {

// Paths of what is left. Errors: cancelled.
[[nodiscard]] Expected<std::vector<SkeletonPath>> sieved_paths(const Raster8& evidence, double least_length_px,
                                                               const Progress& progress);

}  // namespace tedge::imaging
