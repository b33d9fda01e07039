// What a whole photograph says of its darkest paint and of its noise.
#pragma once

#include "coating_model.hpp"
#include "tedge/imaging/raster.hpp"

namespace tedge::imaging {

// In each channel all but one in two hundred small squares of the picture are brighter: linear light. Of those that
// `painted` does not leave out (0), unless it is null or leaves out everything.
template <class T>
[[nodiscard]] Light3 darkest_of(const Raster<T>& picture, const Raster8* painted);

// Deviation of the pixels where there is least to see, each channel, in 8-bit sRGB values: noise and what the file's
// compression did.
template <class T>
[[nodiscard]] Light3 noise_of(const Raster<T>& picture);

}  // namespace tedge::imaging
