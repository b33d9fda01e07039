// Smooth noise over the plane, repeatable by its seed.
#pragma once

#include <cstdint>

namespace tedge::painter {

// Gradient noise on the integer lattice, about -1 to 1, mean 0 (after K. Perlin, "Improving Noise", SIGGRAPH 2002, with
// its quintic blend; the gradients here come from a hash).
[[nodiscard]] float noise(float x, float y, std::uint32_t seed);

// Octaves of noise, each of twice the frequency and `gain` times the size of the one before; about -1 to 1.
[[nodiscard]] float fractal(float x, float y, int octaves, std::uint32_t seed, float gain = 0.5F);

// Rounded heaps with sharp valleys, 0 to 1: one minus the absolute noise, in octaves.
[[nodiscard]] float billows(float x, float y, int octaves, std::uint32_t seed);

// 0 below `from`, 1 above `to`, smooth between.
[[nodiscard]] constexpr float smooth_step(float from, float to, float value) {
    float t = (value - from) / (to - from);
    t = t < 0.0F ? 0.0F : (t > 1.0F ? 1.0F : t);
    return t * t * (3.0F - 2.0F * t);
}

[[nodiscard]] constexpr float mix(float a, float b, float t) {
    return a + (b - a) * t;
}
[[nodiscard]] constexpr float clamp01(float value) {
    return value < 0.0F ? 0.0F : (value > 1.0F ? 1.0F : value);
}

}  // namespace tedge::painter
