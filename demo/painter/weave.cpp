#include "weave.hpp"

#include <algorithm>
#include <cmath>

#include "noise.hpp"
#include "random.hpp"

namespace tedge::painter {
namespace {

float round_profile(float from_middle, float thickness) {
    const float t = 2.0F * from_middle / thickness;
    return std::max(0.0F, 1.0F - t * t);
}

}  // namespace

WeavePoint weave_at(const Weave& weave, float x_mm, float y_mm) {
    // Threads drift slowly over the cloth; the mean count stays.
    const float drift_x = 0.55F * noise(x_mm / 70.0F, y_mm / 45.0F, weave.seed + 1U) +
                          0.13F * noise(x_mm / 3.1F, y_mm / 9.0F, weave.seed + 2U);
    const float drift_y = 0.55F * noise(x_mm / 45.0F, y_mm / 70.0F, weave.seed + 3U) +
                          0.13F * noise(x_mm / 9.0F, y_mm / 3.1F, weave.seed + 4U);
    const float u = x_mm * static_cast<float>(weave.warp_per_cm) * 0.1F + drift_x;
    const float v = y_mm * static_cast<float>(weave.weft_per_cm) * 0.1F + drift_y;
    const float column = std::floor(u);
    const float row = std::floor(v);
    const auto i = static_cast<std::int32_t>(column);
    const auto j = static_cast<std::int32_t>(row);
    const Words yarn_warp = pcg3d(static_cast<std::uint32_t>(i), weave.seed, 31U);
    const Words yarn_weft = pcg3d(static_cast<std::uint32_t>(j), weave.seed, 32U);
    const float slub_warp = noise(column * 7.3F, v * 0.045F, weave.seed + 5U);
    const float slub_weft = noise(u * 0.045F, row * 7.3F, weave.seed + 6U);
    const float thick_warp = 0.86F + 0.16F * (unit(yarn_warp[0]) - 0.5F) + 0.22F * slub_warp;
    const float thick_weft = 0.86F + 0.16F * (unit(yarn_weft[0]) - 0.5F) + 0.22F * slub_weft;
    const float sign = ((i + j) & 1) == 0 ? 1.0F : -1.0F;
    const float over_warp = sign * std::sin(3.14159265F * (v - row));
    const float over_weft = -sign * std::sin(3.14159265F * (u - column));
    const float warp = round_profile(u - column - 0.5F, thick_warp) * (0.55F + 0.45F * over_warp);
    const float weft = round_profile(v - row - 0.5F, thick_weft) * (0.55F + 0.45F * over_weft);
    if (warp > weft) return {std::min(1.0F, warp), 2.0F * unit(yarn_warp[1]) - 1.0F + slub_warp};
    return {std::min(1.0F, weft), 2.0F * unit(yarn_weft[1]) - 1.0F + slub_weft};
}

}  // namespace tedge::painter
