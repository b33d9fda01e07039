// Two photographs of one face that show its colour and are both placed on it: what is compared, or learnt from.
#pragma once

#include <string>

#include "tedge/base/progress.hpp"
#include "tedge/casebook/casebook.hpp"
#include "tedge/geometry/placement.hpp"
#include "tedge/imaging/raster.hpp"

namespace tedge::usecases {

// Two of fifty megapixels and what is computed from them would fill the memory of a small machine; no screen shows
// more.
inline constexpr int longest_compared_side_px = 3000;

// As they are recorded, and the frame of the first, on which both are seen.
struct ColouredPair {
    casebook::Record first;
    casebook::Record second;
    casebook::CaseSnapshot snapshot;
    Uuid frame;
    SizeMm face;
};

// Errors: photograph.not-a-photograph, photograph.no-colour-light (only normal, cross-polarised and specular light show
// colour), photograph.other-face, photograph.not-placed (the first).
[[nodiscard]] Expected<ColouredPair> coloured_pair(casebook::Casebook& book, const Uuid& first, const Uuid& second);

[[nodiscard]] bool both_cross_polarised(const ColouredPair& pair);

struct PlacedPixels {
    casebook::Record record;
    imaging::Raster8 pixels;  // sRGB, averaged to the longest compared side
    Placement placement;      // of these pixels, on the frame
    std::string evened;       // what evening by a board did, a sentence, or ""
};

// Whether a photograph is evened by the board that its record names (measure_board.hpp).
enum class Light { as_photographed, evened };

// Errors: photograph.not-placed (nothing joins it to the frame), those of read_picture, to_srgb8 and, where it is to be
// evened, of flat_field_of and flat-field.size.
[[nodiscard]] Expected<PlacedPixels> read_placed(casebook::Casebook& book, const casebook::CaseSnapshot& snapshot,
                                                 casebook::Record record, const Uuid& frame, const Progress& progress,
                                                 Light light = Light::as_photographed);

}  // namespace tedge::usecases
