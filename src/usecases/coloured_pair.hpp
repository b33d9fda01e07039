// Two photographs of one face that show its colour and are both placed on it, and their pixels for comparing.
#pragma once

#include "photograph_chart.hpp"
#include "placed_pair.hpp"

namespace tedge::usecases {

// Two of fifty megapixels and what is computed from them would fill the memory of a small machine; no screen shows
// more.
inline constexpr int longest_compared_side_px = 3000;

// Errors: those of placed_pair, photograph.no-colour-light (only normal and cross-polarised light show colour).
[[nodiscard]] Expected<PlacedPair> coloured_pair(casebook::Casebook& book, const Uuid& first, const Uuid& second);

[[nodiscard]] bool both_cross_polarised(const PlacedPair& pair);

struct PlacedPixels {
    imaging::Raster8 pixels;  // sRGB, corrected by the chart where one is given, averaged to the longest compared side
    Placement placement;      // of these pixels, on the frame
};

// `chart` is a measured one, or null. Errors: those of srgb_of and corrected_by_chart.
[[nodiscard]] Expected<PlacedPixels> read_placed(const casebook::Casebook& book, const PlacedPhotograph& photograph,
                                                 const PhotographChart* chart, const Progress& progress);

}  // namespace tedge::usecases
