// From linear sRGB light to CIELAB in single precision, written so that the compiler works on eight pixels at once.
// Included by the sources alone that are compiled with -ffast-math -O3.
#pragma once

#include <bit>
#include <cmath>
#include <cstdint>

#include "delta_e_block.hpp"

#define TEDGE_INLINE [[gnu::always_inline]] inline
#if defined(__x86_64__) && defined(__gnu_linux__)
#define TEDGE_CLONES __attribute__((target_clones("arch=x86-64-v4", "arch=x86-64-v3", "default")))
#else
#define TEDGE_CLONES
#endif

namespace tedge::imaging {

// A chroma below this is rounding, not colour: the smallest one of an 8-bit pixel that is not grey is a hundred times
// more.
inline constexpr float least_chroma = 1e-3F;

// By masks: written with ?: the compiler moves work into branches, and then gives up on eight pixels at once.
TEDGE_INLINE float select(bool condition, float yes, float no) {
    const std::int32_t mask = -static_cast<std::int32_t>(condition);
    return std::bit_cast<float>((std::bit_cast<std::int32_t>(yes) & mask) | (std::bit_cast<std::int32_t>(no) & ~mask));
}

// x^(-1/3) by Newton's method, which needs no division: a third of the exponent as a guess (the constant was searched
// for the smallest error over 0.008 to 1.3), then three steps, each doubling the digits. The root is x times its
// square.
TEDGE_INLINE float cube_root(float x) {
    const float bits = static_cast<float>(std::bit_cast<std::int32_t>(x));
    float y = std::bit_cast<float>(static_cast<std::int32_t>(1.41988e9F - bits * (1.0F / 3.0F)));
    const float third = x * (1.0F / 3.0F);
    for (int step = 0; step < 3; ++step) y *= 4.0F / 3.0F - third * (y * y * y);
    return x * (y * y);
}

TEDGE_INLINE float lab_f(float t) {
    constexpr float epsilon = 216.0F / 24389.0F;
    const float root = cube_root(select(t > epsilon, t, epsilon));
    return select(t > epsilon, root, t * (24389.0F / 27.0F / 116.0F) + 16.0F / 116.0F);
}

struct LabF {
    float l, a, b;
};

TEDGE_INLINE LabF lab_of(float r, float g, float b, const LightToXyz& m) {
    const float fx = lab_f(m.row[0][0] * r + m.row[0][1] * g + m.row[0][2] * b);
    const float fy = lab_f(m.row[1][0] * r + m.row[1][1] * g + m.row[1][2] * b);
    const float fz = lab_f(m.row[2][0] * r + m.row[2][1] * g + m.row[2][2] * b);
    return {116.0F * fy - 16.0F, 500.0F * (fx - fy), 200.0F * (fy - fz)};
}

}  // namespace tedge::imaging
