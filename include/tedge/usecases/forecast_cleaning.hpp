// How a picture may look once it is cleaned, told from cleaned windows on two of its photographs, and kept as a record
// that no buyer is ever given.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tedge/base/progress.hpp"
#include "tedge/geometry/region.hpp"
#include "tedge/imaging/cleaning_forecast.hpp"
#include "tedge/usecases/derived_pictures.hpp"

namespace tedge::usecases {

struct ForecastWanted {
    Uuid uncleaned;     // a photograph from before the windows were cleaned, placed
    Uuid with_windows;  // a photograph with the windows cleaned, placed on the same face
    // In mm on the frame of the uncleaned photograph. Left out: the places of the case's trials and treatments that
    // took dirt or varnish off; where some took varnish off, those alone, for the others end at a layer above.
    std::vector<Region> windows{};
    bool wetted_out = false;  // the windows were wet, or varnished, when they were photographed
};

struct ForecastMade {
    KeptPicture picture;      // cleaning_forecast, "forecast"
    KeptPicture uncertainty;  // cleaning_forecast, "uncertainty": PNG with its scale and legend (forecast_sheet.hpp)
    std::string file;         // the picture as it is kept: JPEG, says in pixels and description what it is
    imaging::CleaningForecast forecast;
    std::vector<std::optional<Uuid>> window_records;  // of window 1, 2, …; nothing for one that was given
};

// Reads both originals, averages them to at most 3,000 px a side, cuts the first to the face, lays the second over it
// by their placements, forecasts and keeps picture and uncertainty with the recipe that makes them again, both in one
// act. Frame and wall that a cut askew leaves in the corners stay as they were photographed. Errors:
// photograph.not-a-photograph, photograph.no-colour-light (raking, ultraviolet, infrared and transmitted light show no
// colour of the surface), photograph.other-face, photograph.not-placed, forecast.no-window (none is given and none
// recorded), forecast.wrong-way-round (by the stages of the two), forecast.not-to-be-trusted (a window left out comes
// out wrong by more than half of what cleaning changed; nothing is kept then), those of read_picture, to_srgb8,
// resample, the imaging library's forecast_cleaning and keep_derived_picture.
[[nodiscard]] Expected<ForecastMade> forecast_cleaning(const Acting& acting, const ForecastWanted& wanted,
                                                       const Progress& progress = {});

}  // namespace tedge::usecases
