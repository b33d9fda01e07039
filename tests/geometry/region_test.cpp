#include "tedge/geometry/region.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <thread>

using namespace tedge;

TEST_CASE("Areas are exact, holes left out") {
    const Region square = Region::rectangle({10, 10}, {40, 30}).value();
    CHECK(square.area_mm2() == 1200.0);
    CHECK(square.without(Region::rectangle({20, 20}, {10, 10}).value()).area_mm2() == 1100.0);
    CHECK(square.united(Region::rectangle({30, 10}, {40, 30}).value()).area_mm2() == 1800.0);
    CHECK(square.intersected(Region::rectangle({30, 10}, {40, 30}).value()).area_mm2() == 600.0);
    // A regular polygon of n corners on radius r: area n/2 r² sin(2π/n).
    CHECK(Region::circle({0, 0}, 10)->area_mm2() == Approx(32.0 * 100.0 * std::sin(2.0 * std::numbers::pi / 64.0)));
    CHECK(square.length_mm() == 140.0);
}

TEST_CASE("Distances and margins are in millimetres") {
    const Region a = Region::rectangle({0, 0}, {10, 10}).value();
    const Region b = Region::rectangle({13, 14}, {10, 10}).value();
    CHECK(a.distance_mm(b) == 5.0);
    CHECK(a.within_margin(b, 5.0));
    CHECK_FALSE(a.within_margin(b, 4.99));
    CHECK(std::isinf(a.distance_mm(Region())));
    CHECK(a.grown(2).contains({-1.9, 5}));
    CHECK_FALSE(a.contains({-0.1, 5}));
}

TEST_CASE("Regions read back from GeoJSON geometry objects (RFC 7946 section 3.1)") {
    const std::string text =
        R"({"type":"MultiPolygon","coordinates":[[[[0,0],[10,0],[10,10.25],[0,10],[0,0]],[[2,2],[2,3],[3,3],[2,2]]],[[[20,0],[30,0],[30,5],[20,0]]]]})";
    const auto region = Region::from_geojson(text);
    REQUIRE(region);
    CHECK(region->to_geojson() == text);
    CHECK(region->outline().rings.size() == 3);
    CHECK(Region::from_geojson(R"({"type":"Point","coordinates":[1.5,2]})")->to_geojson() ==
          R"({"type":"Point","coordinates":[1.5,2]})");
    CHECK(Region::from_geojson(Region().to_geojson())->empty());
}

TEST_CASE("What is no region is refused with a reason") {
    CHECK(Region::polygon({{0, 0}, {1, 1}}).error().code == "region.too-few-corners");
    CHECK(Region::polygon({{0, 0}, {10, 10}, {10, 0}, {0, 10}}).error().code == "region.not-simple");
    CHECK(Region::polygon({{0, 0}, {NAN, 1}, {1, 0}}).error().code == "region.not-finite");
    CHECK(Region::line({{0, 0}}).error().code == "region.too-few-corners");
    for (const char* bad :
         {"", "{}", "[1,2]", R"({"type":"Polygon"})", R"({"type":"Polygon","coordinates":[[[0,0]]]})"}) {
        CAPTURE(bad);
        CHECK_FALSE(Region::from_geojson(bad).has_value());
    }
}

TEST_CASE("A region moved from verso to recto keeps its area, and every part of it") {
    const Region both = Region::rectangle({0, 0}, {10, 10})
                            .value()
                            .without(Region::rectangle({2, 2}, {2, 2}).value())
                            .united(Region::rectangle({50, 0}, {5, 5}).value());
    const Region turned = both.mapped([](PointMm p) { return PointMm{812 - p.x_mm, p.y_mm}; });
    CHECK(turned.area_mm2() == Approx(both.area_mm2()));
    CHECK(turned.contains({811, 1}));
    CHECK_FALSE(turned.contains({809, 3}));
}

TEST_CASE("Regions may be used from several threads") {
    const Region shared = Region::circle({0, 0}, 10).value();
    std::vector<double> areas(4);
    {
        std::vector<std::jthread> threads;
        for (double& area : areas) threads.emplace_back([&] { area = shared.grown(1).without(shared).area_mm2(); });
    }
    for (const double area : areas) CHECK(area == areas.front());
    CHECK(areas.front() > 60.0);
}
