// A plain-weave linen canvas: threads that wander, swell and thin, one over one under.
#pragma once

#include <cstdint>

namespace tedge::painter {

struct Weave {
    double warp_per_cm = 13.4;  // threads that run up and down, counted across
    double weft_per_cm = 11.8;  // threads that run across, counted downwards
    std::uint32_t seed = 1;
};

struct WeavePoint {
    float height = 0.0F;       // 0 in the holes, 1 on the crowns
    float thread_tone = 0.0F;  // how this thread's yarn differs from its neighbours, about -1 to 1
};

[[nodiscard]] WeavePoint weave_at(const Weave& weave, float x_mm, float y_mm);

}  // namespace tedge::painter
