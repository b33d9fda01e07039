#include "placed_corners.hpp"

#include <algorithm>
#include <cmath>

namespace tedge::usecases {

namespace {

// A detail may show a sixteenth of the face, as it may where photographs are matched.
constexpr double longest_detail = 16.0;

// More than 0 where the way turns clockwise at `at`, seen with x to the right and y down.
double turn(PointPx before, PointPx at, PointPx after) {
    return (at.x_px - before.x_px) * (after.y_px - at.y_px) - (at.y_px - before.y_px) * (after.x_px - at.x_px);
}

bool is_far_off(PointPx corner, double width_px, double height_px) {
    const double most = longest_detail * std::max(width_px, height_px);
    return corner.x_px < -most || corner.y_px < -most || corner.x_px > width_px + most ||
           corner.y_px > height_px + most;
}

}  // namespace

Expected<void> check_corners(const std::array<PointPx, 4>& corners, const casebook::Body& photograph) {
    std::ptrdiff_t clockwise = 0;
    std::ptrdiff_t other_way = 0;
    for (std::size_t i = 0; i < 4; ++i) {
        const double turned = turn(corners.at((i + 3) % 4), corners.at(i), corners.at((i + 1) % 4));
        clockwise += turned > 0.0 ? 1 : 0;
        other_way += turned < 0.0 ? 1 : 0;
    }
    if (other_way == 4) {
        return fail(
            "photograph.corners-mirrored", "By these corners the face would lie mirrored in the photograph.",
            "Name them clockwise from the top left, as one looks at that face; turn a mirrored photograph first.");
    }
    if (clockwise != 4) {
        return fail("photograph.corners-crossed", "These four corners make no picture: two sides cross or lie in line.",
                    "Name them clockwise from the top left, each once.");
    }
    const auto width = photograph.number("width_px");
    const auto height = photograph.number("height_px");
    const auto far_off = [&](PointPx corner) { return width && height && is_far_off(corner, *width, *height); };
    if (std::ranges::any_of(corners, far_off)) {
        return fail("photograph.corners-off", "A corner lies far outside the photograph.",
                    "Count in pixels of the photograph, from the middle of its top left one.");
    }
    return {};
}

}  // namespace tedge::usecases
