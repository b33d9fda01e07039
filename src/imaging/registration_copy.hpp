// Whether two pictures that match look like a painting and its copy.
#pragma once

#include "registration_levels.hpp"

namespace tedge::imaging {

// A copy follows the outlines, but its hand strays by some thousandths of the picture, in another direction every
// hand's breadth, and its brushwork is its own. Canvas that moved bends as freely, but takes its brushwork with it;
// another light changes the brushwork, but bends nothing; a lens bends along a cubic. So both are asked: how far the
// map bends beside the nearest cubic, and how well the tiles fit. The rule is our own; on made pairs, copies bent
// 0.0021 of the longer side and more and fitted to 0.45 at most; moved canvas fitted to 0.79 and more; the rest bent
// 0.0002 at most.
[[nodiscard]] bool looks_like_a_copy(const LevelResult& first, const LevelResult& finest, SizePx reference);

}  // namespace tedge::imaging
