// Made pictures whose light is known by construction, and photographs of paintings where they are at hand.
#include "tedge/imaging/picture_character.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>

#include "../support/painted_pair.hpp"
#include "tedge/imaging/picture.hpp"
#include "tedge/imaging/shrink.hpp"

using namespace tedge;
using namespace tedge::imaging;
using namespace tedge::test_support;

namespace {

constexpr SizePx size{240, 180};

Raster8 painted(const Ageing& ageing = {}) {
    return photograph(PaintedScene{.seed = 3, .stroke_px = 60.0, .layers = 3}, size, {}, ageing, 5);
}

template <class Change>
Raster8 changed(Raster8 picture, const Change& change) {
    for (int y = 0; y < picture.height_px(); ++y)
        for (int x = 0; x < picture.width_px(); ++x) {
            const std::array<double, 3> in{picture.at(x, y, 0) / 255.0, picture.at(x, y, 1) / 255.0,
                                           picture.at(x, y, 2) / 255.0};
            const std::array<double, 3> out = change(in, x / 239.0, y / 179.0);
            for (int c = 0; c < 3; ++c)
                picture.at(x, y, c) = static_cast<std::uint8_t>(
                    std::lround(255.0 * std::min(1.0, std::max(0.0, out[static_cast<std::size_t>(c)]))));
        }
    return picture;
}

double grey(const std::array<double, 3>& in) {
    return (in[0] + in[1] + in[2]) / 3.0;
}

LightGuess guessed(const Raster8& picture) {
    return guess_light(character_of(picture));
}

}  // namespace

TEST_CASE("A painting in ordinary light, fresh or under old varnish, gives no reason to guess another light") {
    CHECK(guessed(painted()).light.empty());
    CHECK(guessed(painted(old_varnish)).light.empty());
    CHECK(why_bare_back(character_of(painted(old_varnish))).empty());
}

TEST_CASE("Infrared has no colour; ultraviolet glows coldly in the dark") {
    CHECK(guessed(changed(painted(), [](const auto& in, double, double) {
              return std::array{grey(in), grey(in), grey(in)};
          })).light == "infrared");
    for (const auto& glow : {std::array{0.18, 0.30, 0.34}, {0.22, 0.20, 0.50}}) {  // greenish and blue-violet
        const auto dark = changed(painted(), [&](const auto& in, double, double) {
            const double light = 0.4 + 0.6 * grey(in);
            return std::array{glow[0] * light, glow[1] * light, glow[2] * light};
        });
        CHECK(guessed(dark).light == "ultraviolet");
    }
}

TEST_CASE("Light through the canvas is points in the dark") {
    const auto through = changed(painted(), [](const auto&, double x, double y) {
        const bool hole = std::fmod(x * 12.0, 3.0) < 0.15 && std::fmod(y * 9.0, 3.0) < 0.3;
        return hole ? std::array{1.0, 0.9, 0.7} : std::array{0.03, 0.02, 0.01};
    });
    CHECK(guessed(through).light == "transmitted");
}

TEST_CASE("Raking light falls off from its side, told best by the grey around the picture") {
    const auto lit_from = [](double side_x, double side_y) {
        return changed(painted(), [=](const auto& in, double x, double y) {
            const bool is_surround = x < 0.12 || x > 0.88 || y < 0.12 || y > 0.88;
            const double fall = std::exp(-0.9 * (side_x * x + side_y * y)) * (side_x + side_y < 0.0 ? 0.4 : 1.0);
            const std::array<double, 3> here = is_surround ? std::array{0.5, 0.5, 0.5} : in;
            return std::array{here[0] * fall, here[1] * fall, here[2] * fall};
        });
    };
    CHECK(guessed(lit_from(1.0, 0.0)).light == "raking");
    CHECK(guessed(lit_from(1.0, 0.0)).raking_side == "left");
    CHECK(guessed(lit_from(-1.0, 0.0)).raking_side == "right");
    CHECK(guessed(lit_from(0.0, 1.0)).raking_side == "top");
    CHECK(guessed(lit_from(1.0, 1.0)).raking_side == "top-left");
    CHECK(guessed(lit_from(0.0, 0.0)).light.empty());
}

TEST_CASE("The even brown of canvas and stretcher is a back; a blank or black frame says nothing") {
    const auto back = changed(painted(), [](const auto& in, double x, double) {
        const double light = 0.9 + 0.2 * grey(in) - (x > 0.45 && x < 0.55 ? 0.15 : 0.0);
        return std::array{0.48 * light, 0.38 * light, 0.24 * light};
    });
    CHECK_FALSE(why_bare_back(character_of(back)).empty());
    for (const int level : {0, 255}) {
        const Raster8 blank = changed(painted(), [=](const auto&, double, double) {
            const double v = level / 255.0;
            return std::array{v, v, v};
        });
        CHECK(guessed(blank).light.empty());
        CHECK(why_bare_back(character_of(blank)).empty());
    }
    CHECK(guessed(Raster8(1, 1, 3)).light.empty());
}

TEST_CASE("Paintings of a harvest and of a night sky are taken for what they are, where they are at hand") {
    const char* folder = std::getenv("TEDGE_TEST_PHOTOS");
    if (folder == nullptr) return;
    for (const char* name : {"bruegel_harvesters_1165x859.png", "vangogh_starry_night_1280x1014.jpg"}) {
        const auto picture = read_picture(std::filesystem::path(folder) / name);
        REQUIRE(picture);
        const auto character = character_of(preview_of(*picture, 256).value());
        CHECK(guess_light(character).light.empty());
        CHECK(why_bare_back(character).empty());
    }
}
