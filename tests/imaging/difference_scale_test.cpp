#include "tedge/imaging/difference_scale.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "tedge/imaging/colour.hpp"
#include "tedge/imaging/difference_sheet.hpp"

using namespace tedge;
using namespace tedge::imaging;

namespace {

Lab scale_lab(double position) {
    const auto c = scale_colour(position);
    return lab_from_srgb8(c[0], c[1], c[2]);
}

// How a colour looks to each kind of dichromat: Machado, Oliveira, Fernandes, IEEE Transactions on Visualization and
// Computer Graphics 15(6), 1291–1298 (2009), severity 1, in linear RGB (coefficients from memory; every row sums to 1).
using Sight = std::array<std::array<double, 3>, 3>;
constexpr Sight without_red{
    {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}}};
constexpr Sight without_green{
    {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}}};
constexpr Sight without_blue{
    {{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}}};
constexpr Sight all_cones{{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}};

Lab seen_by(const Sight& sight, const std::array<std::uint8_t, 3>& c) {
    const std::array<double, 3> in{srgb_decoded(c[0] / 255.0), srgb_decoded(c[1] / 255.0), srgb_decoded(c[2] / 255.0)};
    std::array<double, 3> out{};
    for (std::size_t i = 0; i < 3; ++i)
        for (std::size_t j = 0; j < 3; ++j) out[i] += sight[i][j] * in[j];
    return lab_from_xyz(xyz_from_linear_srgb({out[0], out[1], out[2]}));
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

TEST_CASE("differences with a sign are in order on both sides, and the sides are told apart, by every eye") {
    for (const Sight& sight : {all_cones, without_red, without_green, without_blue}) {
        for (const double side : {-1.0, 1.0}) {
            double last = 200.0;
            for (int i = 0; i <= 50; ++i) {
                const double l = seen_by(sight, two_way_colour(side * i / 50.0)).l;
                CHECK(l < last);
                last = l;
            }
        }
        for (int i = 5; i <= 50; ++i)
            CHECK(delta_e00(seen_by(sight, two_way_colour(-i / 50.0)), seen_by(sight, two_way_colour(i / 50.0))) > 8.0);
    }
    // Both sides tell size alike, as far as 8 bits go.
    for (int i = 0; i <= 50; ++i)
        CHECK(std::abs(seen_by(all_cones, two_way_colour(-i / 50.0)).l -
                       seen_by(all_cones, two_way_colour(i / 50.0)).l) < 0.8);
    CHECK(two_way_colour(9.0) == two_way_colour(1.0));
    CHECK(two_way_colour(-9.0) == two_way_colour(-1.0));
    for (int i = -500; i <= 500; ++i)
        CHECK_FALSE(two_way_colour(i / 500.0) == std::array<std::uint8_t, 3>{119, 119, 119});
}

TEST_CASE("a map with a sign is pale up to its floor and dark at its ends, as its legend says") {
    RasterF map(4, 1, 1);
    map.at(0, 0) = -0.9F, map.at(1, 0) = -5.5F, map.at(2, 0) = 5.5F, map.at(3, 0) = -30.0F;
    const DifferenceScale scale{.floor = 1.0, .top = 10.0, .both_ways = true};
    const Raster8 drawn = draw_differences(map, scale);
    const auto pixel = [&](int x) {
        return std::array<std::uint8_t, 3>{drawn.at(x, 0, 0), drawn.at(x, 0, 1), drawn.at(x, 0, 2)};
    };
    CHECK(pixel(0) == two_way_colour(0.0));
    CHECK(pixel(1) == two_way_colour(-0.5));
    CHECK(pixel(2) == two_way_colour(0.5));
    CHECK(pixel(3) == two_way_colour(-1.0));
    const auto legend = legend_for(scale, {201, 10});
    CHECK(legend.ticks.front().label == "≤ −10");
    CHECK(legend.ticks.front().position == 0.0);
    CHECK(legend.ticks.back().label == "≥ 10");
    const auto middle = std::ranges::find(legend.ticks, 0.0, &LegendTick::value);
    REQUIRE(middle != legend.ticks.end());
    CHECK(middle->label == "± 1");
    CHECK(middle->position == 0.5);
    const auto five = std::ranges::find(legend.ticks, -6.0, &LegendTick::value);
    REQUIRE(five != legend.ticks.end());
    CHECK(five->label == "−6");
    CHECK(five->position == Approx(0.5 - 5.0 / 9.0 / 2.0));
    CHECK(legend.bar.at(0, 5, 2) == two_way_colour(-1.0)[2]);
    CHECK(legend.bar.at(100, 5, 0) == two_way_colour(0.0)[0]);
}

TEST_CASE("a sheet keeps the map as it is and says its scale and its floor below, however narrow it is") {
    const DifferenceScale scale{.floor = 2.8, .top = 20.0};
    RasterF map(900, 300, 1);
    for (std::size_t i = 0; i < map.samples().size(); ++i) map.samples()[i] = static_cast<float>(i % 900) / 40.0F;
    const Raster8 drawn = draw_differences(map, scale);
    const std::string floor = "Differences below 2.8 ΔE00 are no evidence of a change.";
    const Raster8 sheet = with_legend(drawn, scale, "ΔE00", {"Before and after", floor});
    REQUIRE(sheet.width_px() == 900);
    REQUIRE(sheet.height_px() > 340);
    CHECK(std::equal(drawn.samples().begin(), drawn.samples().end(), sheet.samples().begin()));
    const auto dark_below = [&](const Raster8& of, const Raster8& above) {
        const auto below = of.samples().begin() + static_cast<std::ptrdiff_t>(above.samples().size());
        return std::count_if(below, of.samples().end(), [](std::uint8_t v) { return v < 100; });
    };
    // The bar alone is not all: letters stand there, and more of them with more to say.
    CHECK(dark_below(sheet, drawn) > dark_below(with_legend(drawn, scale, "ΔE00", {}), drawn));
    CHECK(sheet.at(899, sheet.height_px() - 1, 0) == 255);
    const Raster8 narrow(60, 40, 3);
    CHECK(with_legend(narrow, scale, "ΔE00", {floor}).height_px() > 100);
    CHECK(with_legend(Raster8(), scale, "ΔE00", {floor}).empty());
}
