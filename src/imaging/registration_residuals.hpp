// What the residuals of a fit say of each other.
#pragma once

#include "registration_levels.hpp"

namespace tedge::imaging {

// How many tiles say the same as one: 1 and the sum of the correlations of a tile's residual with those of its
// neighbours, out to somewhat more than a tile. Tiles that overlap share content; where the light has changed, what
// moves the edges in one tile moves them in the next as well, and then this is more than the overlap alone. 1 when too
// few tiles agree to tell.
[[nodiscard]] double alike_neighbours(const LevelResult& level);

}  // namespace tedge::imaging
