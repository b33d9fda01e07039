#include "tedge/geometry/homography.hpp"

#include <catch2/catch.hpp>

using namespace tedge;

TEST_CASE("Four points to four points, and back") {
    const std::array<std::array<double, 2>, 4> from{{{0, 0}, {4000, 100}, {3900, 3000}, {50, 2900}}};
    const std::array<std::array<double, 2>, 4> to{{{0, 0}, {812, 0}, {812, 610}, {0, 610}}};
    const auto map = Homography::from_four_points(from, to);
    REQUIRE(map);
    const Homography back = map->inverse();
    for (std::size_t i = 0; i < 4; ++i) {
        const auto there = map->apply(from[i][0], from[i][1]);
        CHECK(there[0] == Approx(to[i][0]).margin(1e-9));
        CHECK(there[1] == Approx(to[i][1]).margin(1e-9));
        const auto home = back.apply(to[i][0], to[i][1]);
        CHECK(home[0] == Approx(from[i][0]).margin(1e-7));
        CHECK(home[1] == Approx(from[i][1]).margin(1e-7));
    }
    CHECK(map->row_major()[8] == 1.0);
}

TEST_CASE("A plane map keeps the cross-ratio of four points on a line") {
    // The invariant of projective maps (Hartley & Zisserman, Multiple View Geometry, 2nd ed., section 2.5; from
    // memory).
    const auto map = Homography::from_row_major({1.1, 0.2, 5, -0.1, 0.9, 7, 1e-4, -2e-4, 1});
    REQUIRE(map);
    const auto at = [&](double t) { return map->apply(10 + 30 * t, 20 - 12 * t); };
    const auto distance = [&](double s, double t) { return std::hypot(at(s)[0] - at(t)[0], at(s)[1] - at(t)[1]); };
    const double cross_ratio = distance(0, 2) * distance(1, 3) / (distance(1, 2) * distance(0, 3));
    CHECK(cross_ratio == Approx(2.0 * 2.0 / (1.0 * 3.0)).epsilon(1e-10));
}

TEST_CASE("Composition applies the second first; singular maps are refused") {
    const auto map = compose(Homography::scaling(2, 3), Homography::translation(1, 1));
    REQUIRE(map);
    CHECK(map->apply(0, 0) == std::array<double, 2>{2, 3});
    CHECK(Homography::from_row_major({1, 2, 3, 2, 4, 6, 0, 0, 1}).error().code == "geometry.singular-map");
    CHECK(Homography::from_four_points({{{0, 0}, {1, 1}, {2, 2}, {0, 5}}}, {{{0, 0}, {1, 0}, {1, 1}, {0, 1}}})
              .error()
              .code == "geometry.singular-map");
}
