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

// Coefficients of a line of knots from the values there, in place: (c[k-1] + 4 c[k] + c[k+1]) / 6 = v[k] inside. The
// first and last go on straight, which makes the second and the last but one equal to their values.
void coefficients_from_values(const std::function<double&(int)>& at, int count) {
    std::vector<double> upper(static_cast<std::size_t>(count), 0.0);
    std::vector<double> right(static_cast<std::size_t>(count), 0.0);
    right[1] = at(1);
    for (int k = 2; k < count - 2; ++k) {
        const auto i = static_cast<std::size_t>(k);
        const double pivot = 4.0 - upper[i - 1];
        upper[i] = 1.0 / pivot;
        right[i] = (6.0 * at(k) - right[i - 1]) / pivot;
    }
    for (int k = count - 3; k >= 2; --k)
        at(k) = right[static_cast<std::size_t>(k)] - upper[static_cast<std::size_t>(k)] * at(k + 1);
    at(0) = 2.0 * at(1) - at(2);
    at(count - 1) = 2.0 * at(count - 2) - at(count - 3);
}

// Both components of a line of coefficients that begins at `first` and goes on by `step`.
void solve_line(std::vector<PointMm>& knots, std::size_t first, std::size_t step, int count) {
    const auto knot = [&](int k) -> PointMm& { return knots[first + static_cast<std::size_t>(k) * step]; };
    coefficients_from_values([&](int k) -> double& { return knot(k).x_mm; }, count);
    coefficients_from_values([&](int k) -> double& { return knot(k).y_mm; }, count);
}

}  // namespace

Expected<BsplineDisplacement> BsplineDisplacement::through(PointMm origin, double spacing_mm, int columns, int rows,
                                                           const std::function<PointMm(PointMm)>& value_at_knot) {
    std::vector<PointMm> knots;
    for (int r = 0; r < rows; ++r) {
        for (int c = 0; c < columns; ++c) {
            const bool covered = r >= 1 && c >= 1 && r <= rows - 2 && c <= columns - 2;
            knots.push_back(covered ? value_at_knot({origin.x_mm + c * spacing_mm, origin.y_mm + r * spacing_mm})
                                    : PointMm{});
        }
    }
    if (columns >= 4 && rows >= 4) {
        const auto across = static_cast<std::size_t>(columns);
        for (int r = 0; r < rows; ++r) solve_line(knots, static_cast<std::size_t>(r) * across, 1, columns);
        for (int c = 0; c < columns; ++c) solve_line(knots, static_cast<std::size_t>(c), across, rows);
    }
    return make(origin, spacing_mm, columns, rows, std::move(knots));
}

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
