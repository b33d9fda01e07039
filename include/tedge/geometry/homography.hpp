// Plane projective maps, 3×3 row-major with h33 = 1.
#pragma once

#include <array>

#include "tedge/base/error.hpp"

namespace tedge {

// Maps (x, y) to ((h0 x + h1 y + h2) / w, (h3 x + h4 y + h5) / w) with w = h6 x + h7 y + h8 and h8 = 1.
// The two frames are said by the name of whoever holds it: `face_from_photo`, `reference_from_moving`.
class Homography {
public:
    constexpr Homography() = default;  // the identity

    // Scales to h33 = 1. Errors: geometry.singular-map (h33 or the determinant vanishes, or a value is not finite).
    [[nodiscard]] static Expected<Homography> from_row_major(const std::array<double, 9>& h);
    [[nodiscard]] static Homography scaling(double factor_x, double factor_y);
    [[nodiscard]] static Homography translation(double x, double y);
    // The map that takes four points to four points (in order). Errors: geometry.singular-map (three on a line).
    [[nodiscard]] static Expected<Homography> from_four_points(const std::array<std::array<double, 2>, 4>& from,
                                                               const std::array<std::array<double, 2>, 4>& to);

    [[nodiscard]] std::array<double, 2> apply(double x, double y) const;
    [[nodiscard]] Homography inverse() const;  // exists: construction refuses singular maps
    [[nodiscard]] const std::array<double, 9>& row_major() const { return h_; }

    friend bool operator==(const Homography&, const Homography&) = default;

private:
    explicit constexpr Homography(const std::array<double, 9>& h) : h_(h) {}
    std::array<double, 9> h_{1, 0, 0, 0, 1, 0, 0, 0, 1};
};

// first `b`, then `a`: (a ∘ b)(p) = a(b(p)). Errors: geometry.singular-map.
[[nodiscard]] Expected<Homography> compose(const Homography& a, const Homography& b);

}  // namespace tedge
