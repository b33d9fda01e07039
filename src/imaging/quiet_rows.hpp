// Rows of a photograph with less of its noise. Taking a dark coat off multiplies noise, and that of a file's
// compression, several times over.
//
// Within small squares each channel is told from brightness, which cameras and files keep best (guided filter: He, Sun
// and Tang, IEEE Transactions on Pattern Analysis and Machine Intelligence 35, 1397-1409, 2013), and of what is left
// over, as of brightness itself, as much is kept as exceeds the noise (local statistics: Lee, the same journal 2,
// 165-168, 1980). From memory.
#pragma once

#include <array>
#include <vector>

#include "coating_model.hpp"
#include "tedge/imaging/raster.hpp"

namespace tedge::imaging {

// Linear light of rows from_y to to_y - 1, three interleaved channels. noise: as noise_of() gives it.
template <class T>
[[nodiscard]] std::vector<float> quiet_rows(const Raster<T>& picture, int from_y, int to_y, const Light3& noise);

}  // namespace tedge::imaging
