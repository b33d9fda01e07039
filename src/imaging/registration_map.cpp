#include <algorithm>
#include <cmath>

#include "tedge/imaging/registration.hpp"

namespace tedge::imaging {

PointPx PixelMap::map(PointPx moving) const {
    const auto q = homography.apply(moving.x_px, moving.y_px);
    if (!displacement) return {q[0], q[1]};
    const PointMm d = displacement->at({q[0], q[1]});
    return {q[0] + d.x_mm, q[1] + d.y_mm};
}

Expected<PointPx> PixelMap::inverse(PointPx reference) const {
    double x = reference.x_px;
    double y = reference.y_px;
    if (displacement) {
        // What is left to go, halved where it swings to and fro: a canvas that gives way nearly as fast as one goes.
        constexpr int most_steps = 200;
        PointMm before{};
        for (int step = 0;; ++step) {
            if (step == most_steps)
                return fail("geometry.no-inverse", "The displacement folds over itself, so there is no way back.",
                            "Register the photographs again.");
            const PointMm d = displacement->at({x, y});
            const PointMm left{reference.x_px - d.x_mm - x, reference.y_px - d.y_mm - y};
            const double share = left.x_mm * before.x_mm + left.y_mm * before.y_mm < 0.0 ? 0.5 : 1.0;
            x += share * left.x_mm;
            y += share * left.y_mm;
            if (std::hypot(left.x_mm, left.y_mm) <= 1e-4) break;
            before = left;
        }
    }
    const auto m = homography.inverse().apply(x, y);
    return PointPx{m[0], m[1]};
}

double RegistrationErrorMap::at(PointPx reference) const {
    if (columns < 1 || rows < 1) return -1.0;
    const int column = std::clamp(static_cast<int>((reference.x_px + 0.5) / cell_px), 0, columns - 1);
    const int row = std::clamp(static_cast<int>((reference.y_px + 0.5) / cell_px), 0, rows - 1);
    return static_cast<double>(error_px[static_cast<std::size_t>(row * columns + column)]);
}

namespace {

// Of the cells of a square of `side` cells a side; negative where none is reached.
float joined_error(const RegistrationErrorMap& map, int left, int top, int side) {
    double squares = 0.0;
    int reached = 0;
    for (int row = top; row < std::min(top + side, map.rows); ++row)
        for (int column = left; column < std::min(left + side, map.columns); ++column) {
            const auto each = static_cast<double>(map.error_px[static_cast<std::size_t>(row * map.columns + column)]);
            if (each < 0.0) continue;
            squares += each * each;
            ++reached;
        }
    return reached > 0 ? static_cast<float>(std::sqrt(squares / reached)) : -1.0F;
}

}  // namespace

RegistrationErrorMap coarser(const RegistrationErrorMap& map, int most_cells_a_side) {
    const int side = (std::max(map.columns, map.rows) + most_cells_a_side - 1) / most_cells_a_side;
    if (side <= 1) return map;
    RegistrationErrorMap out{map.cell_px * side, (map.columns + side - 1) / side, (map.rows + side - 1) / side, {}};
    for (int row = 0; row < out.rows; ++row)
        for (int column = 0; column < out.columns; ++column)
            out.error_px.push_back(joined_error(map, column * side, row * side, side));
    return out;
}

}  // namespace tedge::imaging
