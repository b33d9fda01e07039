// The difference of colour that the noise of two photographs makes by itself.
#pragma once

#include "tedge/imaging/raster.hpp"

namespace tedge::imaging {

// In ΔE00 of one pixel: how much the difference of the two changes from a pixel to the next one to the right, less by
// √2; what three quarters of it stay below (its mean lies below that too, as dark paint is noisier), over pixels that
// count, at most some 40,000 of them in even steps. Where paint changed, it changed on both sides of most pixels alike;
// an edge that lies beside itself counts as noise. Noise that files keep coarser than a pixel (JPEG) is told too low. 0
// where no two neighbours count. Both sRGB, 3 channels, of one size; `counted` has 1 channel, other than 0 where a
// pixel counts.
[[nodiscard]] double noise_delta_e00(const Raster8& reference_srgb, const Raster8& registered_srgb,
                                     const Raster8& counted);

}  // namespace tedge::imaging
