// The steps of a cleaning forecast before the word is written over it: for the tests alone, which hold it against the
// truth. Nothing outside the module gets a forecast without the word.
#pragma once

#include "tedge/imaging/cleaning_forecast.hpp"

namespace tedge::imaging {

template <class T>
[[nodiscard]] Expected<CleaningForecast> bare_forecast(const Raster<T>& uncleaned, const Raster<T>& cleaned,
                                                       const Raster8& windows, const CleaningForecastOptions& options,
                                                       const Progress& progress);

}  // namespace tedge::imaging
