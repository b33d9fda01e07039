// Age cracks, grown as they grow: one after another, each until it meets an older one.
//
// Common knowledge of the trade (see the method notes): age cracks go through paint and ground, follow the pull of the
// canvas, run along the inner edges of the strainer bars, and stop at right angles on cracks that were there before;
// between them the paint cups.
#pragma once

#include <vector>

#include "field.hpp"
#include "ink.hpp"

namespace tedge::painter {

struct Crack {
    Line line;
    double width_mm = 0.1;
    int generation = 1;  // 1 the oldest and widest
};

[[nodiscard]] std::vector<Crack> grow_cracks(SizeMm face, double bar_width_mm, std::uint32_t seed);

// Total length, for the record.
[[nodiscard]] double length_mm(const std::vector<Crack>& cracks);

// How far the paint has lifted beside its cracks, in µm.
[[nodiscard]] Field lift_of(const std::vector<Crack>& cracks, SizeMm face);

}  // namespace tedge::painter
