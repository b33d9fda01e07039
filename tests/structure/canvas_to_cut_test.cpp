#include "tedge/structure/canvas_to_cut.hpp"

#include <catch2/catch.hpp>

using namespace tedge::structure;

TEST_CASE("The canvas is larger by thickness, turnover and grip on each side") {
    // Common practice: bar 18 mm, back turn 25 to 30 mm, grip 40 mm a side.
    const auto cut = canvas_to_cut(1000, 800, {18, 30, 40});
    REQUIRE(cut.has_value());
    CHECK(cut->margin_mm == 88);
    CHECK(cut->width_mm == 1176);
    CHECK(cut->height_mm == 976);
    CHECK(cut->area_m2 == Approx(1.147776));
    CHECK_FALSE(cut->length_from_roll_mm.has_value());
}

TEST_CASE("The roll is used the way that takes least length, or does not suffice") {
    const auto length = [](double roll_mm) {
        return canvas_to_cut(1000, 800, {0, 0, 0}, roll_mm)->length_from_roll_mm;
    };
    CHECK(length(2100) == 800);
    CHECK(length(1000) == 800);
    CHECK(length(999) == 1000);
    CHECK(length(800) == 1000);
    CHECK_FALSE(length(799).has_value());
}

TEST_CASE("Sizes without sense are refused") {
    CHECK(canvas_to_cut(0, 800, {}).error().code == "canvas.bad-size");
    CHECK(canvas_to_cut(1000, -1, {}).error().code == "canvas.bad-size");
    CHECK(canvas_to_cut(1000, 800, {}, 0).error().code == "canvas.bad-size");
    CHECK(canvas_to_cut(1000, 800, {18, -1, 40}).error().code == "canvas.bad-allowance");
}
