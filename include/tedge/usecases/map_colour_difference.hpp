// How much the colour changed between two photographs of one face that are both placed, as a picture over the first.
#pragma once

#include <string>

#include "tedge/base/progress.hpp"
#include "tedge/casebook/casebook.hpp"
#include "tedge/geometry/placement.hpp"
#include "tedge/imaging/colour_difference.hpp"
#include "tedge/imaging/difference_scale.hpp"

namespace tedge::usecases {

struct ColourDifferenceMap {
    imaging::Raster8 drawn;  // by the scale; grey where nothing is compared (beside the face, beyond the second)
    Placement face_from_map;
    imaging::DifferenceScale scale;
    imaging::DifferenceStatistics delta_e00;  // of what is compared
    std::string note;                         // "includes gloss", or ""
    double error_mm = 0.0;                    // how far the two may lie apart, both placements in quadrature
};

// Reads both originals, averages them to at most 3,000 px a side, lays the second over the first by their placements
// and compares. Nothing is recorded. The scale is the one of `tedge colour-difference`: 0 to 20 ΔE00.
// Errors: photograph.not-a-photograph, photograph.not-placed (one of them, or their frames are not joined),
// photograph.other-face, photograph.no-colour-light (only normal, cross-polarised and specular light show colour),
// those of read_picture, to_srgb8, resample and colour_difference, colour-difference.empty (they do not overlap).
[[nodiscard]] Expected<ColourDifferenceMap> map_colour_difference(casebook::Casebook& book, const Uuid& reference,
                                                                  const Uuid& second, const Progress& progress = {});

}  // namespace tedge::usecases
