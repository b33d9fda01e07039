// How much red, green and blue make up of luminance.
#pragma once

#include <array>
#include <cstdint>

namespace tedge::imaging {

// Of linear sRGB (IEC 61966-2-1, whose primaries are those of ITU-R BT.709).
inline constexpr std::array luminance_weights{0.2126, 0.7152, 0.0722};

// The same weights in 256ths on encoded values, 0 to 255: how light a pixel looks, near enough for finding lines.
[[nodiscard]] inline int encoded_lightness(const std::uint8_t* pixel, int channels) {
    return channels < 3 ? pixel[0] : (54 * pixel[0] + 183 * pixel[1] + 19 * pixel[2] + 128) / 256;
}

}  // namespace tedge::imaging
