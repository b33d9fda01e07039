// Whether two pictures that match look like a painting and its copy.
#pragma once

#include "registration_levels.hpp"
#include "registration_repeats.hpp"
#include "tedge/base/progress.hpp"

namespace tedge::imaging {

// A copy follows the outlines, but its hand strays by some thousandths of the picture, in another direction every
// hand's breadth, and its brushwork is its own. Canvas that moved bends as freely, but takes its brushwork with it;
// another light changes the brushwork, but bends nothing; a lens bends along a cubic. So both are asked: how far the
// map bends beside the nearest cubic, and how well the finest tiles fit. A noisy camera spoils the fit as another hand
// does, but not in samples twice as far apart, so there it is asked again. The rule is our own; on made pairs, copies
// bent 0.0013 of the longer side and more and fitted to 0.36 in fine samples, to 0.61 in the coarser at most; moved
// canvas fitted to 0.44 and more, in the coarser to 0.84 and more; the rest bent 0.0002 at most. `laid` is the level
// whose map is pair.map: of faint pictures a coarser one than the finest.
// Without meaning when progress says stop.
[[nodiscard]] bool looks_like_a_copy(const LevelResult& finest, const LevelResult& laid, const LaidPair& pair,
                                     const Progress& progress);

}  // namespace tedge::imaging
