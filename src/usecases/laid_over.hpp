// One placed photograph seen in the pixels of another, both perhaps as smaller copies, through the millimetres of the
// face.
#pragma once

#include "tedge/base/error.hpp"
#include "tedge/geometry/placement.hpp"
#include "tedge/imaging/registration.hpp"

namespace tedge::usecases {

// The placement of a smaller copy: its pixel covers several of the original, around its own centre.
[[nodiscard]] Expected<Placement> of_smaller(Placement placement, SizePx original, SizePx smaller);

// reference from moving, in pixels. Both placements are on one frame and of the very pixels that are resampled; the
// lattice of what canvas and lens bend lies over the reference's `size`. Errors: those of placement_along.
[[nodiscard]] Expected<imaging::PixelMap> reference_from_moving(const Placement& reference, const Placement& moving,
                                                                SizePx size);

}  // namespace tedge::usecases
