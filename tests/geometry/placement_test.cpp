#include "tedge/geometry/placement.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

using namespace tedge;

namespace {

Placement bent_placement() {
    std::vector<PointMm> coefficients;
    for (int row = 0; row < 12; ++row) {
        for (int column = 0; column < 14; ++column) {
            coefficients.push_back({1.2 * std::sin(column * 0.8), 0.9 * std::cos(row * 0.7 + column * 0.3)});
        }
    }
    Placement placement;
    placement.face_from_photo = Homography::from_four_points({{{12, 8}, {4003, 20}, {3990, 3010}, {5, 2995}}},
                                                             {{{0, 0}, {812, 0}, {812, 610}, {0, 610}}})
                                    .value();
    placement.displacement = BsplineDisplacement::make({-80, -80}, 80, 14, 12, coefficients).value();
    return placement;
}

}  // namespace

TEST_CASE("Photo to face and back closes within a thousandth of a pixel") {
    const Placement placement = bent_placement();
    for (double y = 0; y < 3000; y += 151) {
        for (double x = 0; x < 4000; x += 173) {
            const auto back = placement.to_photo(placement.to_face({x, y}));
            REQUIRE(back);
            REQUIRE(std::hypot(back->x_px - x, back->y_px - y) < 1e-3);
        }
    }
}

TEST_CASE("A displacement that folds has no inverse and says so") {
    Placement placement;
    std::vector<PointMm> coefficients;
    for (int i = 0; i < 16; ++i) coefficients.push_back({(i % 2 == 0 ? 40.0 : -40.0), 0});
    placement.displacement = BsplineDisplacement::make({0, 0}, 2, 4, 4, coefficients).value();
    CHECK(placement.to_photo({3.1, 3.0}).error().code == "geometry.no-inverse");
}

TEST_CASE("A photograph of the face alone fills it from edge to edge") {
    const Placement placement = placement_filling({1000, 500}, {400, 200});
    // Centres of the corner pixels lie half a pixel inside the face.
    CHECK(placement.to_face({0, 0}).x_mm == Approx(0.2));
    CHECK(placement.to_face({999, 499}).x_mm == Approx(399.8));
    CHECK(placement.to_face({-0.5, -0.5}).y_mm == Approx(0.0).margin(1e-12));
}

TEST_CASE("A placement follows a smooth map over the face, and says by how much it does not") {
    // A wave of about a millimetre over 400 mm, as canvas moves on a new support. Between knots h apart a cubic spline
    // errs by about 5/384 of h^4 times the fourth derivative (de Boor, A Practical Guide to Splines; from memory):
    // 1.5e-4 mm for h = 20 mm.
    const auto wave = [](PointPx p) -> std::optional<PointMm> {
        constexpr double k = 2.0 * 3.14159265358979 / 400.0;
        return PointMm{p.x_px + 1.2 * std::sin(k * p.y_px), p.y_px + 0.8 * std::cos(k * p.x_px)};
    };
    const auto placement = placement_along(Homography(), wave, {{0, 0}, {610, 460}}, 20.0).value();
    double farthest_mm = 0.0;
    for (double y = 60; y < 400; y += 13) {
        for (double x = 60; x < 550; x += 17) {
            const PointMm follows = placement.to_face({x, y});
            const PointMm exact = *wave({x, y});
            farthest_mm = std::max(farthest_mm, std::hypot(follows.x_mm - exact.x_mm, follows.y_mm - exact.y_mm));
        }
    }
    CHECK(farthest_mm < 4e-4);
    CHECK(placement.error_mm > 0.5 * farthest_mm);  // told at the middles of cells, those at the rim included
    CHECK(placement.error_mm < 0.05);
    const auto broken = placement_along(
        Homography(), [](PointPx) -> std::optional<PointMm> { return std::nullopt; }, {{0, 0}, {610, 460}}, 20.0);
    CHECK(broken.error().code == "geometry.no-inverse");
}
