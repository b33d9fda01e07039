// The plane map that a person's pairs of points speak for, and whether they contradict one another.
#pragma once

#include <vector>

#include "tedge/imaging/registration.hpp"

namespace tedge::imaging {

struct PlaneOfPairs {
    Homography reference_from_moving;  // affine for three pairs
    double residual_px = 0.0;          // RMS distance of the pairs from it, pixels of the reference
    bool mirrored = false;
};

// Errors: registration.too-few-pairs, .pair-outside, .pairs-in-line, .pairs-contradict; they number pairs from 1.
[[nodiscard]] Expected<PlaneOfPairs> plane_through(const std::vector<PointPair>& pairs, SizePx reference,
                                                   SizePx moving);

}  // namespace tedge::imaging
