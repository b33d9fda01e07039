// Smaller pictures by averaging areas in linear light.
//
// Every source pixel counts by the share of it that a smaller pixel covers, and light is averaged, not sRGB values:
// that is what the eye, or a camera further away, does. Averaging sRGB values would darken fine contrast (dark cracks
// in white paint, canvas weave), so a picture would change its lightness as one zooms out.
#pragma once

#include "tedge/imaging/picture.hpp"

namespace tedge::imaging {

// The size that fits into a square of longest_side_px with the same shape, at least 1 px a side, never larger.
[[nodiscard]] SizePx fitted_size(SizePx size, int longest_side_px);

// sRGB pixels, 1 or 3 channels. Already small enough: the same pixels.
[[nodiscard]] Raster8 shrunk_to_fit(const Raster8& srgb, int longest_side_px);

// A small sRGB picture without a full-size copy. Errors: those of to_srgb8.
[[nodiscard]] Expected<Raster8> preview_of(const Picture& picture, int longest_side_px, const Progress& progress = {});

}  // namespace tedge::imaging
