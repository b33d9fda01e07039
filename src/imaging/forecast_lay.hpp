// The forecast over the whole picture, row by row, and its uncertainty, cell by cell.
#pragma once

#include "coat_forecast.hpp"

namespace tedge::imaging {

// Fills picture, uncertainty, cell_px and mean_uncertainty. Errors: cancelled.
template <class T>
[[nodiscard]] Expected<void> lay_forecast(const Raster<T>& uncleaned, const CoatForecast& forecast, int threads,
                                          const Progress& progress, CleaningForecast& out);

}  // namespace tedge::imaging
