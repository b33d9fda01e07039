#include "tedge/imaging/difference_scale.hpp"

#include <catch2/catch.hpp>

#include "tedge/imaging/colour.hpp"

using namespace tedge;
using namespace tedge::imaging;

namespace {

Lab scale_lab(double position) {
    const auto c = scale_colour(position);
    return lab_from_srgb8(c[0], c[1], c[2]);
}

// How the colour looks without the red-sensitive or the green-sensitive cones: Viénot, Brettel, Mollon, Color Research
// and Application 24(4), 243–252 (1999), in linear RGB (coefficients from memory).
double dichromat_lightness(double position, bool red_missing) {
    const auto c = scale_colour(position);
    const double r = srgb_decoded(c[0] / 255.0), g = srgb_decoded(c[1] / 255.0), b = srgb_decoded(c[2] / 255.0);
    const double rg = red_missing ? 0.11238 * r + 0.88762 * g : 0.29275 * r + 0.70725 * g;
    const double blue = red_missing ? 0.00401 * r - 0.00401 * g + b : -0.02234 * r + 0.02234 * g + b;
    return lab_from_xyz(xyz_from_linear_srgb({rg, rg, blue})).l;
}

}  // namespace

TEST_CASE("the scale is in order for every eye") {
    double last = -1.0, last_red = -1.0, last_green = -1.0;
    for (int i = 0; i <= 100; ++i) {
        const double position = i / 100.0;
        const double l = scale_lab(position).l;
        CHECK(l > last);
        CHECK(std::abs(l - (14.0 + 82.0 * position)) < 0.8);  // even, as far as 8 bits go
        CHECK(dichromat_lightness(position, true) > last_red);
        CHECK(dichromat_lightness(position, false) > last_green);
        last = l, last_red = dichromat_lightness(position, true), last_green = dichromat_lightness(position, false);
    }
    CHECK(scale_lab(0.0).b < -15.0);  // dark blue
    CHECK(scale_lab(1.0).b > 5.0);    // yellow white
    CHECK(scale_colour(-3.0) == scale_colour(0.0));
    CHECK(scale_colour(7.0) == scale_colour(1.0));
}

TEST_CASE("steps along the scale are of like size") {
    double smallest = 1e9, largest = 0.0;
    for (int i = 0; i < 10; ++i) {
        const double step = delta_e00(scale_lab(i / 10.0), scale_lab((i + 1) / 10.0));
        smallest = std::min(smallest, step);
        largest = std::max(largest, step);
    }
    CHECK(smallest > 5.0);
    CHECK(largest < 2.6 * smallest);
}

TEST_CASE("a map is drawn between floor and top, what does not count in grey") {
    RasterF map(4, 1, 1);
    map.at(0, 0) = 0.5F, map.at(1, 0) = 1.0F, map.at(2, 0) = 5.5F, map.at(3, 0) = 50.0F;
    Raster8 counted(4, 1, 1);
    counted.at(0, 0) = counted.at(1, 0) = counted.at(2, 0) = 1;
    const Raster8 drawn = draw_differences(map, {.floor = 1.0, .top = 10.0}, &counted);
    const auto pixel = [&](int x) {
        return std::array<std::uint8_t, 3>{drawn.at(x, 0, 0), drawn.at(x, 0, 1), drawn.at(x, 0, 2)};
    };
    CHECK(pixel(0) == scale_colour(0.0));
    CHECK(pixel(1) == scale_colour(0.0));
    CHECK(pixel(2) == scale_colour(0.5));
    CHECK(pixel(3) == std::array<std::uint8_t, 3>{119, 119, 119});
    for (int i = 0; i <= 1000; ++i) {
        const auto c = scale_colour(i / 1000.0);
        CHECK_FALSE((c[0] == 119 && c[1] == 119 && c[2] == 119));
    }
    CHECK_THROWS_AS(draw_differences(map, {.floor = 2.0, .top = 2.0}), std::invalid_argument);
}

TEST_CASE("the legend names its steps and its floor") {
    const auto legend = legend_for({.floor = 1.2, .top = 10.0}, {200, 12});
    REQUIRE(legend.ticks.size() >= 4);
    CHECK(legend.ticks.front().label == "1.2");
    CHECK(legend.ticks.back().label == "≥ 10");
    CHECK(legend.ticks[1].label == "2");
    CHECK(legend.ticks[1].position == Approx(0.8 / 8.8));
    CHECK(legend.floor_note == "Differences up to 1.2 are not told apart: noise and misfit reach that far.");
    CHECK(legend.bar.at(0, 5, 2) == scale_colour(0.0)[2]);
    CHECK(legend.bar.at(199, 5, 0) == scale_colour(1.0)[0]);
    const auto upright = legend_for({.top = 4.0}, {10, 50});
    CHECK(upright.floor_note.empty());
    CHECK(upright.bar.at(5, 49, 2) == scale_colour(0.0)[2]);
    CHECK(upright.ticks.front().label == "0");
}
