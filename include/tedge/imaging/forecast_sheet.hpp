// How sure a cleaning forecast is, as a picture that can be handed on.
#pragma once

#include "tedge/imaging/cleaning_forecast.hpp"

namespace tedge::imaging {

// The uncertainty over the picture of the forecast, pixel on pixel, by one scale for all forecasts (0 to 10 ΔE00); grey
// where `painted` is 0 (null: nowhere). The word FORECAST is written over it as over the forecast, for it is no map of
// anything that a camera saw. Below it stand the scale and what must be said (difference_sheet.hpp), `notes` last.
[[nodiscard]] Raster8 uncertainty_sheet(const CleaningForecast& forecast, const Raster8* painted = nullptr);

}  // namespace tedge::imaging
