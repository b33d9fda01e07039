// Pairs of colours in cleaned windows: means over small squares, in linear light, well inside the window.
#pragma once

#include <vector>

#include "coating_fit.hpp"
#include "tedge/base/progress.hpp"
#include "tedge/geometry/coordinates.hpp"
#include "tedge/imaging/cleaning_forecast.hpp"

namespace tedge::imaging {

struct WindowPairs {
    ForecastWindow window;
    std::vector<SeenTwice> places;  // patch counts within the window: its quarters, or 0 throughout
    std::vector<PointPx> middles;   // of the patches
    std::vector<int> half;          // of each place: left or right (upper or lower) half
};

template <class T>
[[nodiscard]] std::vector<WindowPairs> pairs_in_windows(const Raster<T>& uncleaned, const Raster<T>& cleaned,
                                                        const Raster8& windows, const Progress& progress);

}  // namespace tedge::imaging
