// CIEDE2000 and the differences of CIELAB for blocks of pixels in single precision.
#pragma once

#include <array>
#include <cstddef>

namespace tedge::imaging {

inline constexpr std::size_t delta_e_block_pixels = 256;

// Linear sRGB light, one plane per channel.
struct LightBlock {
    alignas(32) std::array<float, delta_e_block_pixels> red;
    alignas(32) std::array<float, delta_e_block_pixels> green;
    alignas(32) std::array<float, delta_e_block_pixels> blue;
};

// Rows of XYZ / white from linear sRGB.
struct LightToXyz {
    std::array<std::array<float, 3>, 3> row;
};

// Stands where single precision is not enough (hues opposite to one another): the caller computes those pixels exactly.
inline constexpr float delta_e_unsure = -1.0F;

// out holds delta_e_block_pixels values; the caller uses as many as it has pixels.
void delta_e00_block(const LightBlock& first, const LightBlock& second, const LightToXyz& matrix,
                     bool lightness_weight_one, float* out);

// Second minus first: of L*, a*, b*, chroma C*ab, or ΔH*ab with the sign of the turn from red towards yellow.
enum class LabPart { lightness, a, b, chroma, hue };
void lab_difference_block(const LightBlock& first, const LightBlock& second, const LightToXyz& matrix, LabPart part,
                          float* out);

}  // namespace tedge::imaging
