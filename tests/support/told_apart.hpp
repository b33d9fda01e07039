// A forecast held against the truth, pixel by pixel.
#pragma once

#include <algorithm>
#include <cmath>
#include <variant>

#include "coated_painting.hpp"
#include "tedge/imaging/cleaning_forecast.hpp"
#include "tedge/imaging/colour_difference.hpp"

namespace tedge::test_support {

struct Told {
    double uncleaned = 0.0;          // mean ΔE00 of the uncleaned picture to the truth
    double forecast = 0.0;           // and of the forecast
    double error_over_stated = 0.0;  // root mean square over pixels
    double within_two = 0.0;         // share of pixels whose error is less than two stated deviations
};

inline Told told_apart(const CleaningPair& pair, const imaging::CleaningForecast& forecast) {
    const auto before = imaging::colour_difference(pair.cleaned, pair.uncleaned).value();
    const auto after = imaging::colour_difference(pair.cleaned, std::get<imaging::Raster8>(forecast.picture)).value();
    Told told{before.report.all.mean, after.report.all.mean};
    double square = 0.0;
    std::size_t within = 0;
    const imaging::RasterF& map = after.delta_e00;
    for (int y = 0; y < map.height_px(); ++y)
        for (int x = 0; x < map.width_px(); ++x) {
            const double stated = forecast.uncertainty.at(x / forecast.cell_px, y / forecast.cell_px);
            const double ratio = map.at(x, y) / stated;
            square += ratio * ratio;
            if (ratio < 2.0) ++within;
        }
    const auto pixels = static_cast<double>(map.samples().size());
    told.error_over_stated = std::sqrt(square / pixels);
    told.within_two = static_cast<double>(within) / pixels;
    return told;
}

}  // namespace tedge::test_support
