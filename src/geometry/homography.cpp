#include "tedge/geometry/homography.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace tedge {

namespace {

using Matrix = std::array<double, 9>;

double determinant(const Matrix& h) {
    return h[0] * (h[4] * h[8] - h[5] * h[7]) - h[1] * (h[3] * h[8] - h[5] * h[6]) + h[2] * (h[3] * h[7] - h[4] * h[6]);
}

Matrix product(const Matrix& a, const Matrix& b) {
    Matrix out{};
    for (std::size_t row = 0; row < 3; ++row) {
        for (std::size_t column = 0; column < 3; ++column) {
            for (std::size_t k = 0; k < 3; ++k) out[row * 3 + column] += a[row * 3 + k] * b[k * 3 + column];
        }
    }
    return out;
}

Matrix adjugate(const Matrix& h) {
    return {h[4] * h[8] - h[5] * h[7], h[2] * h[7] - h[1] * h[8], h[1] * h[5] - h[2] * h[4],
            h[5] * h[6] - h[3] * h[8], h[0] * h[8] - h[2] * h[6], h[2] * h[3] - h[0] * h[5],
            h[3] * h[7] - h[4] * h[6], h[1] * h[6] - h[0] * h[7], h[0] * h[4] - h[1] * h[3]};
}

std::unexpected<Error> singular() {
    return fail("geometry.singular-map", "These points do not fix one plane map.",
                "Choose four corners of which no three lie on a line.");
}

// The map from the unit square's corners (0,0) (1,0) (1,1) (0,1) to a quadrilateral, in closed form
// (Heckbert, Fundamentals of Texture Mapping and Image Warping, 1989, section 2.2.3; from memory).
Matrix from_unit_square(const std::array<std::array<double, 2>, 4>& q) {
    const double dx1 = q[1][0] - q[2][0];
    const double dx2 = q[3][0] - q[2][0];
    const double dy1 = q[1][1] - q[2][1];
    const double dy2 = q[3][1] - q[2][1];
    const double sx = q[0][0] - q[1][0] + q[2][0] - q[3][0];
    const double sy = q[0][1] - q[1][1] + q[2][1] - q[3][1];
    const double below = dx1 * dy2 - dx2 * dy1;
    const double g = (sx * dy2 - dx2 * sy) / below;
    const double h = (dx1 * sy - sx * dy1) / below;
    return {q[1][0] - q[0][0] + g * q[1][0],
            q[3][0] - q[0][0] + h * q[3][0],
            q[0][0],
            q[1][1] - q[0][1] + g * q[1][1],
            q[3][1] - q[0][1] + h * q[3][1],
            q[0][1],
            g,
            h,
            1.0};
}

bool any_three_on_a_line(const std::array<std::array<double, 2>, 4>& q) {
    for (std::size_t left_out = 0; left_out < 4; ++left_out) {
        const auto& a = q[(left_out + 1) % 4];
        const auto& b = q[(left_out + 2) % 4];
        const auto& c = q[(left_out + 3) % 4];
        const double abx = b[0] - a[0];
        const double aby = b[1] - a[1];
        const double acx = c[0] - a[0];
        const double acy = c[1] - a[1];
        const double area = std::abs(abx * acy - aby * acx);
        const double scale = std::hypot(abx, aby) * std::hypot(acx, acy);
        if (!(area > 1e-9 * scale) || !std::isfinite(area)) return true;
    }
    return false;
}

}  // namespace

Expected<Homography> Homography::from_row_major(const std::array<double, 9>& h) {
    const bool finite = std::ranges::all_of(h, [](double value) { return std::isfinite(value); });
    if (!finite || h[8] == 0.0) return singular();
    Matrix scaled = h;
    for (double& value : scaled) value /= h[8];
    // Judged in units of the columns, so that a map from thousands of pixels to metres is not called singular.
    const double norm = std::hypot(scaled[0], scaled[3], scaled[6]) * std::hypot(scaled[1], scaled[4], scaled[7]) *
                        std::hypot(scaled[2], scaled[5], 1.0);
    if (!(std::abs(determinant(scaled)) > 1e-14 * norm)) return singular();
    return Homography(scaled);
}

Homography Homography::scaling(double factor_x, double factor_y) {
    return Homography({factor_x, 0, 0, 0, factor_y, 0, 0, 0, 1});
}

Homography Homography::translation(double x, double y) {
    return Homography({1, 0, x, 0, 1, y, 0, 0, 1});
}

Expected<Homography> Homography::from_four_points(const std::array<std::array<double, 2>, 4>& from,
                                                  const std::array<std::array<double, 2>, 4>& to) {
    if (any_three_on_a_line(from) || any_three_on_a_line(to)) return singular();
    return from_row_major(product(from_unit_square(to), adjugate(from_unit_square(from))));
}

std::array<double, 2> Homography::apply(double x, double y) const {
    const double w = h_[6] * x + h_[7] * y + h_[8];
    return {(h_[0] * x + h_[1] * y + h_[2]) / w, (h_[3] * x + h_[4] * y + h_[5]) / w};
}

Homography Homography::inverse() const {
    Matrix inverted = adjugate(h_);
    const double scale = inverted[8];
    for (double& value : inverted) value /= scale;
    return Homography(inverted);
}

Expected<Homography> compose(const Homography& a, const Homography& b) {
    return Homography::from_row_major(product(a.row_major(), b.row_major()));
}

}  // namespace tedge
