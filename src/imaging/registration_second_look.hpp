// Whether what does not agree with a map agrees with itself somewhere else.
#pragma once

#include "registration_levels.hpp"
#include "registration_repeats.hpp"

namespace tedge::imaging {

// Tiles look a few samples around. Where canvas is bent by more than they could follow, or a figure has been moved,
// they find nothing and the map is carried on from beside, as it is over new paint; but new paint lies nowhere, and
// what was bent or moved lies elsewhere. So tiles twice as wide look five times as far, and those that stand out,
// neighbours alike, well beside the map, are counted. Share of all wide tiles that stand out. Without meaning when
// progress says stop.
[[nodiscard]] double share_that_lies_elsewhere(const LaidPair& pair, const Progress& progress);

}  // namespace tedge::imaging
