#include "noise.hpp"

#include <cmath>

#include "random.hpp"

namespace tedge::painter {
namespace {

float gradient_dot(std::int32_t column, std::int32_t row, std::uint32_t seed, float dx, float dy) {
    // Sixteen directions on a circle of radius 1.4, so that the noise fills about -1 to 1.
    static constexpr float directions[16][2] = {{1.4F, 0.0F},  {1.293F, 0.536F},   {0.99F, 0.99F},   {0.536F, 1.293F},
                                                {0.0F, 1.4F},  {-0.536F, 1.293F},  {-0.99F, 0.99F},  {-1.293F, 0.536F},
                                                {-1.4F, 0.0F}, {-1.293F, -0.536F}, {-0.99F, -0.99F}, {-0.536F, -1.293F},
                                                {0.0F, -1.4F}, {0.536F, -1.293F},  {0.99F, -0.99F},  {1.293F, -0.536F}};
    std::uint32_t h = static_cast<std::uint32_t>(column) * 0x9E3779B1U ^ static_cast<std::uint32_t>(row) * 0x85EBCA77U ^
                      seed * 0xC2B2AE3DU;
    h ^= h >> 15U;
    h *= 0x2C1B3C6DU;
    h ^= h >> 12U;
    h *= 0x297A2D39U;
    const auto& direction = directions[h >> 28U];
    return direction[0] * dx + direction[1] * dy;
}

float quintic(float t) {
    return t * t * t * (t * (t * 6.0F - 15.0F) + 10.0F);
}

}  // namespace

float noise(float x, float y, std::uint32_t seed) {
    const float floor_x = std::floor(x);
    const float floor_y = std::floor(y);
    const auto column = static_cast<std::int32_t>(floor_x);
    const auto row = static_cast<std::int32_t>(floor_y);
    const float dx = x - floor_x;
    const float dy = y - floor_y;
    const float top_left = gradient_dot(column, row, seed, dx, dy);
    const float top_right = gradient_dot(column + 1, row, seed, dx - 1.0F, dy);
    const float bottom_left = gradient_dot(column, row + 1, seed, dx, dy - 1.0F);
    const float bottom_right = gradient_dot(column + 1, row + 1, seed, dx - 1.0F, dy - 1.0F);
    const float u = quintic(dx);
    return mix(mix(top_left, top_right, u), mix(bottom_left, bottom_right, u), quintic(dy));
}

float fractal(float x, float y, int octaves, std::uint32_t seed, float gain) {
    float sum = 0.0F;
    float size = 1.0F;
    float total = 0.0F;
    for (int octave = 0; octave < octaves; ++octave) {
        sum += size * noise(x, y, seed + static_cast<std::uint32_t>(octave) * 101U);
        total += size;
        size *= gain;
        // The lattice is turned a little at each octave, or its axes would show.
        const float turned = x * 1.6F - y * 1.2F;
        y = x * 1.2F + y * 1.6F;
        x = turned;
    }
    return sum / total;
}

float billows(float x, float y, int octaves, std::uint32_t seed) {
    float sum = 0.0F;
    float size = 1.0F;
    float total = 0.0F;
    for (int octave = 0; octave < octaves; ++octave) {
        sum += size * (1.0F - std::fabs(noise(x, y, seed + static_cast<std::uint32_t>(octave) * 57U)));
        total += size;
        size *= 0.5F;
        const float turned = x * 1.6F - y * 1.2F;
        y = x * 1.2F + y * 1.6F;
        x = turned;
    }
    return sum / total;
}

}  // namespace tedge::painter
