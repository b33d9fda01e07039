#include "tedge/structure/canvas_to_cut.hpp"

#include <algorithm>
#include <cmath>

namespace tedge::structure {

namespace {

bool is_extent(double length_mm) {
    return length_mm > 0 && std::isfinite(length_mm);
}

bool is_allowance(double length_mm) {
    return length_mm >= 0 && std::isfinite(length_mm);
}

// The shorter side across the roll saves nothing when the longer one fits too: then less length is used.
std::optional<double> length_from_roll(double width_mm, double height_mm, double roll_width_mm) {
    const auto [shorter, longer] = std::minmax(width_mm, height_mm);
    if (longer <= roll_width_mm) return shorter;
    if (shorter <= roll_width_mm) return longer;
    return std::nullopt;
}

}  // namespace

Expected<CanvasToCut> canvas_to_cut(double width_mm, double height_mm, const CanvasAllowance& allowance,
                                    std::optional<double> roll_width_mm) {
    if (!is_extent(width_mm) || !is_extent(height_mm) || (roll_width_mm && !is_extent(*roll_width_mm))) {
        return fail("canvas.bad-size", "Picture and roll must have a width above 0 mm.", "Give sizes in mm.");
    }
    if (!is_allowance(allowance.bar_thickness_mm) || !is_allowance(allowance.turnover_mm) ||
        !is_allowance(allowance.grip_mm)) {
        return fail("canvas.bad-allowance", "Thickness, turnover and grip cannot be negative.",
                    "Give them in mm, 0 for none.");
    }
    CanvasToCut cut;
    cut.margin_mm = allowance.bar_thickness_mm + allowance.turnover_mm + allowance.grip_mm;
    cut.width_mm = width_mm + 2 * cut.margin_mm;
    cut.height_mm = height_mm + 2 * cut.margin_mm;
    cut.area_m2 = cut.width_mm * cut.height_mm / 1e6;
    if (roll_width_mm) cut.length_from_roll_mm = length_from_roll(cut.width_mm, cut.height_mm, *roll_width_mm);
    return cut;
}

}  // namespace tedge::structure
