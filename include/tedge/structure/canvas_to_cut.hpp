// How large a lining canvas has to be cut for a picture of a given size.
#pragma once

#include <optional>

#include "tedge/base/error.hpp"

namespace tedge::structure {

// Common practice: over the edge of the bar, a turn onto its back of 25 to 30 mm, and about 40 mm for the pliers and
// the working frame; some teachers allow 76 mm in all beyond the edge. The liner's own habit goes before these figures.
struct CanvasAllowance {
    double bar_thickness_mm = 18;
    double turnover_mm = 30;
    double grip_mm = 40;
};

struct CanvasToCut {
    double margin_mm = 0;  // each side
    double width_mm = 0;
    double height_mm = 0;
    double area_m2 = 0;
    // Where the width of the roll was given: the least length to cut from it, one piece; none when the roll is too
    // narrow both ways and the canvas would need a seam.
    std::optional<double> length_from_roll_mm;
};

// Width and height of the picture over the bars. Errors: canvas.bad-size (a picture or roll without extent),
// canvas.bad-allowance (negative).
[[nodiscard]] Expected<CanvasToCut> canvas_to_cut(double width_mm, double height_mm, const CanvasAllowance& allowance,
                                                  std::optional<double> roll_width_mm = {});

}  // namespace tedge::structure
