#include "tedge/geometry/displacement.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace tedge {

namespace {

// The cell and place in it for one axis: the four coefficients i - 1 … i + 2 around a point.
struct Span {
    int first = 0;
    std::array<double, 4> weights{};
};

Span span_at(double coordinate, double origin, double spacing, int count) {
    // The spline is full where all four coefficients exist: from knot 1 to knot count - 2.
    const double limited = std::clamp((coordinate - origin) / spacing, 1.0, static_cast<double>(count - 2));
    const int cell = std::min(static_cast<int>(limited), count - 3);
    return {cell - 1, cubic_bspline_weights(limited - cell)};
}

}  // namespace

std::array<double, 4> cubic_bspline_weights(double t) {
    const double s = 1.0 - t;
    return {s * s * s / 6.0, (4.0 - 6.0 * t * t + 3.0 * t * t * t) / 6.0, (4.0 - 6.0 * s * s + 3.0 * s * s * s) / 6.0,
            t * t * t / 6.0};
}

Expected<BsplineDisplacement> BsplineDisplacement::make(PointMm origin, double spacing_mm, int columns, int rows,
                                                        std::vector<PointMm> coefficients_mm) {
    const bool finite =
        std::ranges::all_of(coefficients_mm, [](PointMm c) { return std::isfinite(c.x_mm) && std::isfinite(c.y_mm); });
    const bool sized = columns >= 4 && rows >= 4 &&
                       coefficients_mm.size() == static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows);
    if (!finite || !sized || !(spacing_mm > 0.0) || !std::isfinite(spacing_mm) || !std::isfinite(origin.x_mm) ||
        !std::isfinite(origin.y_mm)) {
        return fail("geometry.bad-lattice", "The displacement's lattice does not fit its numbers.",
                    "Register the photograph again.");
    }
    BsplineDisplacement made;
    made.origin_ = origin;
    made.spacing_mm_ = spacing_mm;
    made.columns_ = columns;
    made.rows_ = rows;
    made.coefficients_mm_ = std::move(coefficients_mm);
    return made;
}

PointMm BsplineDisplacement::at(PointMm point) const {
    const Span across = span_at(point.x_mm, origin_.x_mm, spacing_mm_, columns_);
    const Span down = span_at(point.y_mm, origin_.y_mm, spacing_mm_, rows_);
    PointMm sum;
    for (int j = 0; j < 4; ++j) {
        const auto row = static_cast<std::size_t>(down.first + j) * static_cast<std::size_t>(columns_);
        for (int i = 0; i < 4; ++i) {
            const PointMm& c = coefficients_mm_[row + static_cast<std::size_t>(across.first + i)];
            const double weight =
                across.weights[static_cast<std::size_t>(i)] * down.weights[static_cast<std::size_t>(j)];
            sum.x_mm += weight * c.x_mm;
            sum.y_mm += weight * c.y_mm;
        }
    }
    return sum;
}

}  // namespace tedge
