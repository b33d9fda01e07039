#include "tedge/geometry/displacement.hpp"

#include <catch2/catch.hpp>
#include <cmath>

using namespace tedge;

TEST_CASE("The cubic B-spline basis sums to one and takes its known values") {
    // B3(0) = 2/3, B3(±1) = 1/6, B3(1/2) = 23/48 (de Boor, A Practical Guide to Splines; from memory).
    const auto at_knot = cubic_bspline_weights(0.0);
    CHECK(at_knot[0] == Approx(1.0 / 6.0));
    CHECK(at_knot[1] == Approx(2.0 / 3.0));
    CHECK(at_knot[3] == Approx(0.0).margin(1e-15));
    CHECK(cubic_bspline_weights(0.5)[1] == Approx(23.0 / 48.0));
    for (double t = 0.0; t < 1.0; t += 0.1) {
        const auto w = cubic_bspline_weights(t);
        CHECK(w[0] + w[1] + w[2] + w[3] == Approx(1.0).epsilon(1e-14));
    }
}

TEST_CASE("Coefficients on a straight line give that straight line, edge values hold outside") {
    std::vector<PointMm> coefficients;
    for (int row = 0; row < 6; ++row) {
        for (int column = 0; column < 8; ++column) coefficients.push_back({column * 0.1, row * -0.2});
    }
    const auto field = BsplineDisplacement::make({-50, -50}, 50, 8, 6, coefficients);
    REQUIRE(field);
    // A cubic B-spline reproduces polynomials up to degree three; here degree one.
    CHECK(field->at({100, 75}).x_mm == Approx(0.1 * (100.0 + 50.0) / 50.0));
    CHECK(field->at({100, 75}).y_mm == Approx(-0.2 * (75.0 + 50.0) / 50.0));
    CHECK(field->at({-1000, 75}) == field->at({0, 75}));
    CHECK(field->at({1000, 75}) == field->at({250, 75}));
}

TEST_CASE("A lattice that does not fit its numbers is refused") {
    CHECK(BsplineDisplacement::make({0, 0}, 10, 3, 4, std::vector<PointMm>(12)).error().code == "geometry.bad-lattice");
    CHECK_FALSE(BsplineDisplacement::make({0, 0}, 10, 4, 4, std::vector<PointMm>(15)).has_value());
    CHECK_FALSE(BsplineDisplacement::make({0, 0}, 0, 4, 4, std::vector<PointMm>(16)).has_value());
    CHECK_FALSE(BsplineDisplacement::make({0, 0}, 1, 4, 4, std::vector<PointMm>(16, {NAN, 0})).has_value());
}

TEST_CASE("A displacement goes through the values it is given at its knots") {
    const auto value = [](PointMm p) { return PointMm{std::sin(p.x_mm * 0.11) + p.y_mm, std::cos(p.y_mm * 0.07)}; };
    const auto spline = BsplineDisplacement::through({-10, -10}, 10, 9, 7, value).value();
    for (int r = 1; r <= 5; ++r) {
        for (int c = 1; c <= 7; ++c) {
            const PointMm knot{-10.0 + 10 * c, -10.0 + 10 * r};
            CHECK(spline.at(knot).x_mm == Approx(value(knot).x_mm).margin(1e-12));
            CHECK(spline.at(knot).y_mm == Approx(value(knot).y_mm).margin(1e-12));
        }
    }
    // What is straight stays straight between the knots too.
    const auto straight = [](PointMm p) { return PointMm{0.3 * p.x_mm - 0.1 * p.y_mm + 2.0, 0.02 * p.y_mm}; };
    const auto line = BsplineDisplacement::through({-10, -10}, 10, 9, 7, straight).value();
    CHECK(line.at({33.3, 21.7}).x_mm == Approx(straight({33.3, 21.7}).x_mm));
    CHECK(line.at({1.2, 38.9}).y_mm == Approx(straight({1.2, 38.9}).y_mm));
    CHECK(BsplineDisplacement::through({0, 0}, 10, 3, 7, straight).error().code == "geometry.bad-lattice");
}
