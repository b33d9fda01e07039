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

// Light letters with dark outlines, half transparent, seen on light and on dark.
template <class T>
void write_forecast_words(Raster<T>& picture);

}  // namespace tedge::imaging
