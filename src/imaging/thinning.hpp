// A mask made one pixel wide.
#pragma once

#include "tedge/imaging/raster.hpp"

namespace tedge::imaging {

// Non-zero pixels are thinned to their middle lines, 8-connected, nothing cut apart and no hole closed: the parallel
// algorithm of Zhang and Suen with two sub-steps (Communications of the ACM 27, 1984; from memory), then the corners
// that it leaves two pixels thick.
void thin(Raster8& mask);

}  // namespace tedge::imaging
