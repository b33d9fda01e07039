// Exif/TIFF orientation: where the first row and column of the stored picture belong.
#pragma once

#include "tedge/imaging/picture.hpp"

namespace tedge::imaging {

// Orientations 5 to 8 change width and height over.
[[nodiscard]] constexpr bool swaps_sides(int orientation) {
    return orientation >= 5 && orientation <= 8;
}
[[nodiscard]] SizePx oriented_size(SizePx stored, int orientation);

// Upright pixels; values outside 1 to 8 count as 1 (TIFF 6.0, tag 274).
void turn_upright(Picture& picture, int orientation);

}  // namespace tedge::imaging
