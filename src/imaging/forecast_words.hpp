// The word FORECAST over a picture: so often and so large that whatever shows half of the picture shows it whole.
#pragma once

#include <vector>

#include "tedge/geometry/coordinates.hpp"
#include "tedge/imaging/raster.hpp"

namespace tedge::imaging {

struct WordBox {
    int left = 0;
    int top = 0;
    SizePx size;
};

// Where the words stand: rows, each second one moved by half a step, no word cut by an edge of the picture.
[[nodiscard]] std::vector<WordBox> forecast_word_boxes(SizePx picture);

// The word alone, in its box of about this width: channel 0 tells how much of a pixel letters and outlines cover,
// channel 1 how much letters do, 0 to 1.
[[nodiscard]] RasterF forecast_word_pattern(double width_px);

// Light letters with dark outlines, half transparent, seen on light and on dark.
template <class T>
void write_forecast_words(Raster<T>& picture);

}  // namespace tedge::imaging
