// Noise of a photograph on a part that is of one tone: the standard deviation of L*, as FADGI and ISO 19264-1 state it.
#pragma once

#include "tedge/base/error.hpp"
#include "tedge/imaging/chart.hpp"
#include "tedge/imaging/edge_sharpness.hpp"

namespace tedge::imaging {

struct PatchNoise {
    double noise_l = 0.0;      // standard deviation of L*, pixel by pixel, about the plane that fits the patch best
    double lightness_l = 0.0;  // mean L*
    // Of means over 8 × 8 pixels about that plane: what the patch itself goes up and down by, and a share of the noise.
    double uneven_l = 0.0;
    int pixels = 0;
};

// The box holds one tone and nothing else. L* is that of luminance for what was developed, and of the mean of the three
// channels for a raw file in the camera's own colours, full scale 1. A plane is taken out first, for light that falls
// off is no noise: a rule of our own.
// Errors: noise.box (outside, or under 24 px a side), noise.clipped (one pixel in a hundred is overexposed),
// noise.too-dark, noise.not-uniform (uneven_l above 0.3 and above half the noise: a rule of our own).
[[nodiscard]] Expected<PatchNoise> patch_noise(const ChartPicture& picture, const BoxPx& box);

}  // namespace tedge::imaging
