// A picture's colours in sRGB: for the screen, for registration and for colour differences.
//
// Tagged pictures go through their profile (relative colorimetric, no black point compensation); untagged ones are sRGB
// already and are copied. A profile that says nothing but sRGB changes nothing. Grey becomes three equal channels.
#pragma once

#include "tedge/imaging/picture.hpp"

namespace tedge::imaging {

// Always 3 channels. Errors: picture.colour-profile (the profile cannot be used), picture.camera-space (linear camera
// values have no sRGB colour before they are calibrated), cancelled.
[[nodiscard]] Expected<Raster8> to_srgb8(const Picture& picture, const Progress& progress = {});
[[nodiscard]] Expected<Raster16> to_srgb16(const Picture& picture, const Progress& progress = {});

// The sRGB profile (ICC version 2.1, matrix and curve) as written into our own files: the same bytes every time.
[[nodiscard]] const std::vector<std::uint8_t>& srgb_icc_profile();

}  // namespace tedge::imaging
