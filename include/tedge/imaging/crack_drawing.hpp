// Crack maps as pictures to look at: lines on the paled photograph.
#pragma once

#include <array>
#include <cstdint>

#include "tedge/imaging/crack_change.hpp"
#include "tedge/imaging/crack_map.hpp"

namespace tedge::imaging {

using LineColour = std::array<std::uint8_t, 3>;  // sRGB

// Told apart by people of any colour vision (Okabe and Ito's set; from memory).
inline constexpr LineColour crack_colour{0, 114, 178};          // blue
inline constexpr LineColour appeared_crack_colour{213, 94, 0};  // vermilion
inline constexpr LineColour gone_crack_colour{0, 158, 115};     // bluish green
inline constexpr LineColour undecided_crack_colour{230, 159, 0};
inline constexpr LineColour same_crack_colour{110, 110, 110};

// srgb: 1 or 3 channels, the map's size. Lines are one pixel wide, those that changed three. 3 channels.
// Errors: cracks.sizes-differ.
[[nodiscard]] Expected<Raster8> draw_cracks(const Raster8& srgb, const CrackMap& map);
[[nodiscard]] Expected<Raster8> draw_crack_change(const Raster8& srgb, const CrackChange& change);

}  // namespace tedge::imaging
