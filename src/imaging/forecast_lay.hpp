// The forecast over the whole picture, row by row, and its uncertainty, cell by cell.
#pragma once

#include "coat_forecast.hpp"

namespace tedge::imaging {

// Fills picture, uncertainty, cell_px and mean_uncertainty. Where `painted` (CleaningForecastOptions) says that there
// is no paint, the picture stays as it was photographed, and no uncertainty of it is counted. Errors: cancelled.
template <class T>
[[nodiscard]] Expected<void> lay_forecast(const Raster<T>& uncleaned, const CoatForecast& forecast,
                                          const Raster8* painted, int threads, const Progress& progress,
                                          CleaningForecast& out);

}  // namespace tedge::imaging
