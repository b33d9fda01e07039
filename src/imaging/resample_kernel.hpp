// The cubic kernel of Keys (a = -0.5) laid over rows of pixels.
#pragma once

#include <cstddef>
#include <cstdint>

#include "tedge/imaging/raster.hpp"

namespace tedge::imaging {

// A stretch of one output row: pixel i looks at (x + i·step_x, y + i·step_y) of the source.
struct ResampleSpan {
    float x = 0.0F;
    float y = 0.0F;
    float step_x = 0.0F;
    float step_y = 0.0F;
    int count = 0;
};

// Every position must lie at least 1 px inside the left and top edge and 2 px inside the right and bottom edge.
template <class T>
void resample_span_inside(const Raster<T>& source, const ResampleSpan& span, T* out);

// Any position: the outermost pixels are repeated half a pixel outwards, beyond it `out` is left as it is.
template <class T>
void resample_pixel(const Raster<T>& source, float x, float y, T* out);

// True when a span may be read by resample_span_inside: positions run straight, so its two ends tell.
[[nodiscard]] bool lies_inside(const ResampleSpan& span, SizePx source);

}  // namespace tedge::imaging
