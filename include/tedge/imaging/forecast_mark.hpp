// Whether the word that is written over every cleaning forecast stands in a picture, whatever became of its file: saved
// as JPEG, scaled, cut, turned by quarter turns, its metadata gone.
//
// The word is ours, in our lettering, and covers what lies under it by three fifths: where it stands, light letters in
// dark outlines are correlated with it almost wholly, on any picture. So it is looked for by weighted normalised
// correlation (letters and outlines count, what lies beside them does not) at every size that the word can have, first
// on small copies, then closely where it may be. What lies beside the letters is never asked, so that the painting
// under them, clean or not, makes no difference.
#pragma once

#include "tedge/imaging/raster.hpp"

namespace tedge::imaging {

// Copies of about this size are searched as well as larger ones, and much faster.
inline constexpr int forecast_mark_px = 1000;

struct ForecastMark {
    bool seen = false;
    double likeness = 0.0;  // of the place most like the word: 1 is the word itself
};

// srgb: 1 or 3 channels. Words are found that are from 0.09 to 0.62 of the longer side wide and some 44 pixels and
// more: all of a forecast's, and those of any half of it, as long as they can be read at all.
[[nodiscard]] ForecastMark forecast_mark_in(const Raster8& srgb);

}  // namespace tedge::imaging
