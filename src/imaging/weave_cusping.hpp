// Cusping told from the map of a weave.
#pragma once

#include <vector>

#include "tedge/imaging/thread_count.hpp"

namespace tedge::imaging {

// Edges of the photograph along which threads wave as they do between tacks: a wave of 3 to 25 cm, of at least a
// degree, at least twice as strong at the edge as at the middle. Only as good as the photograph reaches to the edge.
[[nodiscard]] std::vector<Cusping> cusping_of(const WeaveMap& map);

}  // namespace tedge::imaging
