// What a person must know of a forecast, a sentence each.
#pragma once

#include "tedge/imaging/cleaning_forecast.hpp"

namespace tedge::imaging {

[[nodiscard]] std::vector<std::string> forecast_notes(const CleaningForecast& forecast,
                                                      const CleaningForecastOptions& options);

// The windows contradict each other so much that the picture as it is would be the better forecast.
[[nodiscard]] std::unexpected<Error> windows_disagree(const ForecastError& left_out, double seen_change);

}  // namespace tedge::imaging
