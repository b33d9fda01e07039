// A smooth displacement over a face: what a plane map cannot say when canvas has moved or a lens bends.
#pragma once

#include <array>
#include <functional>
#include <vector>

#include "tedge/base/error.hpp"
#include "tedge/geometry/coordinates.hpp"

namespace tedge {

// Uniform cubic B-spline on a lattice over the face. Lattice knot (c, r) stands at origin + (c, r)·spacing; the value
// at a point is the sum of the 4 × 4 coefficients around it with the cubic B-spline basis (Unser, IEEE Signal
// Processing Magazine 16(6), 1999; from memory). Outside the lattice the nearest edge value holds.
class BsplineDisplacement {
public:
    // columns, rows >= 4; coefficients row by row, columns × rows of them, in mm.
    // Errors: geometry.bad-lattice.
    [[nodiscard]] static Expected<BsplineDisplacement> make(PointMm origin, double spacing_mm, int columns, int rows,
                                                            std::vector<PointMm> coefficients_mm);

    // The spline that has the given value at every knot it covers in full: knots 1 to columns - 2 and 1 to rows - 2
    // (the outermost coefficients go on straight). Errors: geometry.bad-lattice.
    [[nodiscard]] static Expected<BsplineDisplacement> through(PointMm origin, double spacing_mm, int columns, int rows,
                                                               const std::function<PointMm(PointMm)>& value_at_knot);

    // Displacement in mm at a point of the face.
    [[nodiscard]] PointMm at(PointMm point) const;

    [[nodiscard]] PointMm origin() const { return origin_; }
    [[nodiscard]] double spacing_mm() const { return spacing_mm_; }
    [[nodiscard]] int columns() const { return columns_; }
    [[nodiscard]] int rows() const { return rows_; }
    [[nodiscard]] const std::vector<PointMm>& coefficients_mm() const { return coefficients_mm_; }

    friend bool operator==(const BsplineDisplacement&, const BsplineDisplacement&) = default;

private:
    BsplineDisplacement() = default;
    PointMm origin_;
    double spacing_mm_ = 1.0;
    int columns_ = 0;
    int rows_ = 0;
    std::vector<PointMm> coefficients_mm_;
};

// The four weights of the uniform cubic B-spline at t in [0, 1) of a cell.
[[nodiscard]] std::array<double, 4> cubic_bspline_weights(double t);

}  // namespace tedge
