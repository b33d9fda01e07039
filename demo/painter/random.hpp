// Random numbers without a state: a hash of counters, the same on any number of threads.
//
// pcg3d of M. Jarzynski and M. Olano, "Hash Functions for GPU Rendering", Journal of Computer Graphics Techniques 9(3),
// 21-38, 2020: a linear congruential step on each word, two rounds of mixing by products, a shift between them.
#pragma once

#include <array>
#include <cstdint>

namespace tedge::painter {

using Words = std::array<std::uint32_t, 3>;

[[nodiscard]] constexpr Words pcg3d(std::uint32_t x, std::uint32_t y, std::uint32_t z) {
    constexpr std::uint32_t multiplier = 1664525U;
    constexpr std::uint32_t increment = 1013904223U;
    x = x * multiplier + increment;
    y = y * multiplier + increment;
    z = z * multiplier + increment;
    for (int round = 0; round < 2; ++round) {
        x += y * z;
        y += z * x;
        z += x * y;
        if (round == 0) {
            x ^= x >> 16U;
            y ^= y >> 16U;
            z ^= z >> 16U;
        }
    }
    return {x, y, z};
}

// In [0, 1), from the upper 24 bits.
[[nodiscard]] constexpr float unit(std::uint32_t word) {
    return static_cast<float>(word >> 8U) * 0x1p-24F;
}

// Near to a normal deviate, mean 0 and standard deviation 1, never beyond 3.5: the sum of four uniform 16-bit numbers
// (Irwin and Hall). Two words make one.
[[nodiscard]] constexpr float normal(std::uint32_t a, std::uint32_t b) {
    const std::uint32_t sum = (a & 0xFFFFU) + (a >> 16U) + (b & 0xFFFFU) + (b >> 16U);
    constexpr float inverse_deviation = 1.7320508F / 65536.0F;
    return (static_cast<float>(sum) - 131070.0F) * inverse_deviation;
}

// A row of dice thrown one after another: each throw is a hash of (seed, count), so a row is repeatable by its seed.
class Dice {
public:
    constexpr explicit Dice(std::uint32_t seed, std::uint32_t row = 0) : seed_(seed), row_(row) {}

    [[nodiscard]] constexpr std::uint32_t word() { return pcg3d(count_++, seed_, row_)[0]; }
    [[nodiscard]] constexpr float unit() { return painter::unit(word()); }
    [[nodiscard]] constexpr float between(float low, float high) { return low + (high - low) * unit(); }
    [[nodiscard]] constexpr float normal() {
        const Words words = pcg3d(count_++, seed_, row_);
        return painter::normal(words[0], words[1]);
    }
    [[nodiscard]] constexpr bool chance(float probability) { return unit() < probability; }

private:
    std::uint32_t seed_;
    std::uint32_t row_;
    std::uint32_t count_ = 0;
};

}  // namespace tedge::painter
