#include "iso_outline.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "otsu_classes.hpp"

using namespace tedge;
using namespace tedge::imaging;

namespace {

RasterF cone(double x0, double y0, double radius) {
    RasterF out(60, 50, 1);
    for (int y = 0; y < 50; ++y)
        for (int x = 0; x < 60; ++x) out.at(x, y) = static_cast<float>(radius - std::hypot(x - x0, y - y0));
    return out;
}

PointMm as_is(PointPx p) {
    return {p.x_px, p.y_px};
}

}  // namespace

TEST_CASE("the outline of a cone is a circle, to a fraction of a pixel") {
    const auto rings = iso_rings(cone(30.3, 24.6, 12.4), 0.0F);
    REQUIRE(rings.size() == 1);
    for (const PointPx& p : rings[0]) CHECK(std::hypot(p.x_px - 30.3, p.y_px - 24.6) == Approx(12.4).margin(0.03));
    CHECK(-signed_area_px2(rings[0]) == Approx(std::numbers::pi * 12.4 * 12.4).epsilon(0.002));
}

TEST_CASE("holes are taken out, small patches left out, rims closed") {
    RasterF field(40, 40, 1);
    for (float& value : field.samples()) value = 1.0F;  // up to the rim
    for (int y = 10; y < 20; ++y)
        for (int x = 10; x < 20; ++x) field.at(x, y) = -1.0F;
    field.at(30, 30) = -1.0F;
    const auto regions = outlined_regions(field, 0.0F, 20.0, as_is);
    REQUIRE(regions.size() == 1);
    CHECK_FALSE(regions[0].contains({14, 14}));
    CHECK(regions[0].contains({30, 30}));  // a hole too small to be told
    // 40 × 40 pixels with their halves at the rim, less 10 × 10.
    CHECK(regions[0].area_mm2() == Approx(40.0 * 40.0 - 100.0).epsilon(0.01));
    RasterF dots(20, 20, 1);
    dots.at(5, 5) = dots.at(6, 6) = 1.0F;  // corner to corner: apart
    CHECK(iso_rings(dots, 0.5F).size() == 2);
    CHECK(outlined_regions(dots, 0.5F, 5.0, as_is).empty());
    CHECK(iso_rings(RasterF(3, 3, 1), 0.5F).empty());
}

TEST_CASE("an upper class is seen when it stands apart, and one broad class is not cut in two") {
    std::vector<float> one, two;
    for (int i = 0; i < 4000; ++i) {
        // The sum of twelve even values: near normal, deviation 1.
        double sum = -6.0;
        for (int k = 0; k < 12; ++k) sum += std::fmod(std::abs(std::sin(i * 12.9898 + k * 78.233)) * 43758.5453, 1.0);
        one.push_back(static_cast<float>(sum));
        two.push_back(static_cast<float>(sum + (i % 10 == 0 ? 8.0 : 0.0)));
    }
    CHECK_FALSE(upper_class_of(one).separate);
    const auto classes = upper_class_of(two);
    CHECK(classes.separate);
    CHECK(classes.low == Approx(0.0).margin(0.1));
    CHECK(classes.low_deviation == Approx(1.0).margin(0.1));
    CHECK_FALSE(upper_class_of({1.0F, 1.0F, 1.0F}).separate);
}
