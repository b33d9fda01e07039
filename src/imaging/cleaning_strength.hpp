// How far the change at each pixel of a pair is that of its cleaned areas: 0 where nothing was cleaned, 1 where it was.
#pragma once

#include <opencv2/core.hpp>

#include "tedge/base/error.hpp"
#include "tedge/base/progress.hpp"
#include "tedge/imaging/raster.hpp"

namespace tedge::imaging {

struct CleaningStrength {
    cv::Mat share;           // CV_32F; NaN where nothing is known
    cv::Mat cleaned;         // CV_8U: 255 where it is well above that of the rest
    double deviation = 0.0;  // of the share where nothing was cleaned
    bool found = false;      // cleaned areas stand apart from the rest
};

// `counted` as in cleaned_areas.hpp. Errors: cancelled.
[[nodiscard]] Expected<CleaningStrength> cleaning_strength(const Raster8& before, const Raster8& after,
                                                           const Raster8* counted, double least_change,
                                                           const Progress& progress);

// Around every pixel, with a deviation of so many pixels.
[[nodiscard]] cv::Mat averaged_around(const cv::Mat& field, double deviation_px);

}  // namespace tedge::imaging
