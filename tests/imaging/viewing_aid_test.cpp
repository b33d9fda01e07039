// A made picture under a made coat: what the aid takes off is known.
#include "tedge/imaging/viewing_aid.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "tedge/imaging/colour.hpp"

using namespace tedge;
using namespace tedge::imaging;

namespace {

// Grey steps from near black to near white, in bands.
Raster8 clean_steps() {
    Raster8 picture(480, 360, 3);
    for (int y = 0; y < 360; ++y)
        for (int x = 0; x < 480; ++x)
            for (int c = 0; c < 3; ++c) picture.at(x, y, c) = static_cast<std::uint8_t>(10 + 235 * (x / 48) / 9);
    return picture;
}

// Filtered (blue most) and with a little scattered light, in linear light.
Raster8 coated(const Raster8& clean) {
    constexpr double through[] = {0.75, 0.6, 0.35};
    constexpr double scattered[] = {0.03, 0.025, 0.015};
    Raster8 out = clean;
    for (int y = 0; y < clean.height_px(); ++y)
        for (int x = 0; x < clean.width_px(); ++x)
            for (int c = 0; c < 3; ++c) {
                const double light = srgb_decoded(clean.at(x, y, c) / 255.0) * through[c] + scattered[c];
                out.at(x, y, c) = static_cast<std::uint8_t>(std::lround(255.0 * srgb_encoded(light)));
            }
    return out;
}

// Of the lower part, where no letters stand between the rows; the median is not moved by them.
double median_spread_of_channels(const Raster8& picture) {
    std::vector<int> spreads;
    for (int y = 0; y < picture.height_px(); ++y)
        for (int x = 0; x < picture.width_px(); ++x) {
            const auto [low, high] = std::minmax({picture.at(x, y, 0), picture.at(x, y, 1), picture.at(x, y, 2)});
            spreads.push_back(high - low);
        }
    std::ranges::nth_element(spreads, spreads.begin() + static_cast<std::ptrdiff_t>(spreads.size() / 2));
    return spreads[spreads.size() / 2];
}

}  // namespace

TEST_CASE("an even tone of varnish is taken off by its slider, as far as it is pushed") {
    const Raster8 dirty = coated(clean_steps());
    const double before = median_spread_of_channels(dirty);
    const double half = median_spread_of_channels(viewing_aid(dirty, {.contrast = 0.0, .tone = 0.5}).value());
    const double whole = median_spread_of_channels(viewing_aid(dirty, {.contrast = 0.0, .tone = 1.0}).value());
    CHECK(before > 30);
    CHECK(half < 0.75 * before);
    CHECK(whole <= 4);  // the steps were grey
}

TEST_CASE("contrast is lifted by its slider, of a grey picture too") {
    Raster8 flat(240, 200, 1);
    for (int y = 0; y < 200; ++y)
        for (int x = 0; x < 240; ++x) flat.at(x, y) = static_cast<std::uint8_t>(100 + 30 * (x / 40) / 5);
    const auto span = [](const Raster8& picture) {
        std::vector<int> values;
        for (int x = 0; x < picture.width_px(); ++x) values.push_back(picture.at(x, picture.height_px() - 3));
        std::ranges::sort(values);
        return values[values.size() * 9 / 10] - values[values.size() / 10];
    };
    const Raster8 lifted = viewing_aid(flat, {.contrast = 1.0, .tone = 1.0}).value();
    CHECK(lifted.channels() == 3);
    CHECK(lifted.size() == flat.size());
    CHECK(span(viewing_aid(flat, {.contrast = 0.0, .tone = 0.0}).value()) <= 31);
    CHECK(span(lifted) > 60);
}

TEST_CASE(
    "the words stand in the pixels of every quarter of it, whatever the sliders say, and the picture is not touched") {
    const Raster8 picture = clean_steps();
    const Raster8 copy = picture;
    const Raster8 shown = viewing_aid(picture, {.contrast = 0.0, .tone = 0.0}).value();
    CHECK(picture == copy);
    for (int quarter = 0; quarter < 4; ++quarter) {
        int changed = 0;
        for (int y = 0; y < 180; ++y)
            for (int x = 0; x < 240; ++x) {
                const int at_x = x + 240 * (quarter % 2);
                const int at_y = y + 180 * (quarter / 2);
                changed += shown.at(at_x, at_y, 1) != picture.at(at_x, at_y, 1) ? 1 : 0;
            }
        INFO(quarter);
        CHECK(changed > 500);
    }
    CHECK(viewing_aid(picture, {}).value() == viewing_aid(picture, {}).value());
}

TEST_CASE("sliders beyond their ends and pictures too small for the words are refused") {
    CHECK(viewing_aid(clean_steps(), {.contrast = 1.5, .tone = 0}).error().values.at("slider") == "contrast");
    CHECK(viewing_aid(clean_steps(), {.contrast = 0, .tone = -0.1}).error().values.at("slider") == "tone");
    CHECK(viewing_aid(clean_steps(), {.contrast = std::nan(""), .tone = 0}).error().code == "viewing-aid.slider");
    CHECK(viewing_aid(Raster8(59, 400, 3), {}).error().code == "viewing-aid.too-small");
    CHECK(viewing_aid(Raster8(60, 60, 3), {}));  // black all over
}
