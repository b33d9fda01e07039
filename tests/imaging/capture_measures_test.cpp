// Evenness, sharpness and scale on made photographs whose truth is a formula.
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "../support/made_chart.hpp"
#include "tedge/imaging/edge_sharpness.hpp"
#include "tedge/imaging/flat_field.hpp"
#include "tedge/imaging/patch_noise.hpp"
#include "tedge/imaging/picture_scale.hpp"

using namespace tedge;
using namespace tedge::imaging;
using namespace tedge::test_support;

namespace {

template <class Light>
ChartPicture made(int width, int height, Light&& light) {
    ChartPicture out{.linear = Raster16(width, height, 3)};
    for (int y = 0; y < height; ++y)
        for (int x = 0; x < width; ++x)
            for (int c = 0; c < 3; ++c)
                out.linear.at(x, y, c) =
                    static_cast<std::uint16_t>(std::lround(std::clamp(light(x, y, c), 0.0, 1.0) * 65535.0));
    return out;
}

// Falls by `loss` from the middle to the corners, and by `lean` from left to right.
double falling(double x, double y, double loss, double lean) {
    const double u = 2 * x / 639 - 1;
    const double v = 2 * y / 479 - 1;
    return (1 - loss * (u * u + v * v) / 2) * (1 + lean * u);
}

double noise(int x, int y, int c) {
    double sum = -6.0;
    for (int k = 0; k < 12; ++k) sum += counted(7, x, y, static_cast<std::uint64_t>(12 * c + k));
    return sum;
}

ChartPicture slanted(double degrees, double sigma, bool level) {
    const double a = degrees * std::numbers::pi / 180;
    return made(120, 100, [&](int x, int y, int) {
        const double across = level ? y - 50.0 : x - 60.0;
        const double along = level ? x - 60.0 : y - 50.0;
        const double d = across * std::cos(a) + along * std::sin(a);
        return 0.1 + 0.6 * 0.5 * std::erfc(-d / (sigma * std::numbers::sqrt2));
    });
}

}  // namespace

TEST_CASE("The fall of light is measured on a board and taken out of a photograph") {
    const auto board = made(640, 480, [](int x, int y, int c) {
        return 0.7 * falling(x, y, 0.2, 0.05) * (c == 2 ? 0.8 : 1.0) * (1 + 0.02 * noise(x, y, c));
    });
    const auto flat = flat_field_of(board);
    REQUIRE(flat);
    // 1 - darkest / brightest, over the frame as the formula has it.
    double brightest = 0.0;
    for (int x = 0; x < 640; ++x) brightest = std::max(brightest, falling(x, 239.5, 0.2, 0.05));
    const double truth = 100 * (1 - falling(0, 0, 0.2, 0.05) / brightest);
    CHECK(flat->non_uniformity_percent() == Approx(truth).margin(0.4));
    CHECK(flat->misfit_percent() < 0.3);
    // Means over blocks of 16 × 16 pixels with 2 % of noise: 0.125 % each, the extremes of 1,200 of them some 7 apart.
    CHECK(flat->evened_percent() > 0.4);
    CHECK(flat->evened_percent() < 1.5);

    const auto picture = made(640, 480, [](int x, int y, int) { return 0.4 * falling(x, y, 0.2, 0.05); });
    const auto even = evened(picture, *flat);
    REQUIRE(even);
    const double middle = even->linear.at(320, 240, 1);
    for (const auto& [x, y] : {std::pair{5, 5}, {630, 8}, {12, 470}, {625, 470}, {100, 300}}) {
        CAPTURE(x, y);
        CHECK(even->linear.at(x, y, 1) / middle == Approx(1.0).margin(0.005));
    }
    // The same of pixels as a file stores them, to their own step.
    Raster8 stored(640, 480, 3);
    for (std::size_t i = 0; i < stored.samples().size(); ++i)
        stored.samples()[i] =
            static_cast<std::uint8_t>(std::lround(255 * srgb_encoded(picture.linear.samples()[i] / 65535.0)));
    const auto shown = evened(stored, *flat);
    REQUIRE(shown);
    for (const auto& [x, y] : {std::pair{5, 5}, {630, 8}, {12, 470}, {625, 470}, {100, 300}})
        CHECK(std::abs(shown->at(x, y, 1) - shown->at(320, 240, 1)) <= 1);
    CHECK(evened(Raster8(64, 64, 3), *flat).error().code == "flat-field.size");
    CHECK(evened(made(64, 64, [](int, int, int) { return 0.5; }), *flat).error().code == "flat-field.size");
}

TEST_CASE("Specks on the board do not matter, a picture in place of the board is refused") {
    const auto specks = made(640, 480, [](int x, int y, int) {
        return 0.6 * falling(x, y, 0.1, 0.0) * (std::hypot(x - 200, y - 100) < 12 ? 0.3 : 1.0);
    });
    const auto flat = flat_field_of(specks);
    REQUIRE(flat);
    CHECK(flat->non_uniformity_percent() == Approx(10.0).margin(0.3));

    const PaintedScene scene;
    const Raster8 seen = photograph(scene, {640, 480}, KnownMove{}, Ageing{}, 3);
    const auto painting = made(640, 480, [&](int x, int y, int c) { return srgb_decoded(seen.at(x, y, c) / 270.0); });
    CHECK(flat_field_of(painting).error().code == "flat-field.not-even");
    CHECK(flat_field_of(made(640, 480, [](int, int, int) { return 1.0; })).error().code == "flat-field.clipped");
    CHECK(flat_field_of(made(640, 480, [](int, int, int) { return 0.001; })).error().code == "flat-field.too-dark");
    CHECK(flat_field_of(made(32, 480, [](int, int, int) { return 0.5; })).error().code == "flat-field.too-small");
}

TEST_CASE("Sharpness of a blurred edge is that of the blur") {
    const double sigma = GENERATE(0.7, 1.0, 1.6);
    const bool level = GENERATE(false, true);
    const auto sharp = edge_sharpness(slanted(5.0, sigma, level), {10, 10, 100, 80});
    REQUIRE(sharp);
    CAPTURE(sigma, level);
    // The Fourier transform of a Gaussian: exp(-2 π² σ² f²).
    const auto truth = [sigma](double response) {
        return std::sqrt(-std::log(response) / 2.0) / (std::numbers::pi * sigma);
    };
    CHECK(sharp->edge_degrees == Approx(5.0).margin(0.1));
    CHECK(sharp->sfr50_cycles_per_px == Approx(truth(0.5)).epsilon(0.03));
    CHECK(sharp->sfr10_cycles_per_px == Approx(std::min(0.5, truth(0.1))).epsilon(0.05));
    CHECK(sharp->highest_response < 1.02);
}

TEST_CASE("What has no slanted edge gives no sharpness") {
    const BoxPx box{10, 10, 100, 80};
    CHECK(edge_sharpness(slanted(0.0, 1.0, false), box).error().code == "sharpness.angle");
    CHECK(edge_sharpness(made(120, 100, [](int, int, int) { return 0.5; }), box).error().code == "sharpness.no-edge");
    CHECK(edge_sharpness(made(120, 100, [](int x, int y, int c) { return 0.5 + 0.1 * noise(x, y, c); }), box)
              .error()
              .code == "sharpness.no-edge");
    CHECK(edge_sharpness(slanted(5.0, 1.0, false), {100, 10, 100, 80}).error().code == "sharpness.box");
}

TEST_CASE("The sharpest clean edge of a photograph is found, paint and corners are passed over") {
    const PaintedScene scene{.seed = 5, .stroke_px = 40.0, .layers = 4};
    const Raster8 painted = photograph(scene, {640, 480}, KnownMove{}, Ageing{}, 3);
    // Cards on the painting, turned by 6 degrees: each twice as long as wide, with an edge of its own blur.
    const double a = 6.0 * std::numbers::pi / 180;
    const auto card = [&](double x, double y, PointPx middle, double sigma) {
        const double u = (x - middle.x_px) * std::cos(a) + (y - middle.y_px) * std::sin(a);
        const double v = -(x - middle.x_px) * std::sin(a) + (y - middle.y_px) * std::cos(a);
        const auto inside = [&](double d) { return 0.5 * std::erfc(-d / (sigma * std::numbers::sqrt2)); };
        return inside(70 - std::abs(u)) * inside(110 - std::abs(v));
    };
    const auto picture_with = [&](bool cards) {
        return made(640, 480, [&](int x, int y, int c) {
            double light = 0.3 * srgb_decoded(painted.at(x, y, c) / 270.0);
            if (!cards) return light;
            // A black sheet with a white one on it, twice: the left is sharper.
            for (const auto& [middle, sigma] : {std::pair{PointPx{160, 240}, 0.8}, std::pair{PointPx{480, 240}, 2.0}}) {
                const double sheet = std::abs(x - middle.x_px) < 150 && std::abs(y - middle.y_px) < 200 ? 1.0 : 0.0;
                light += sheet * (0.05 + 0.6 * card(x, y, middle, sigma) - light);
            }
            return light;
        });
    };
    const auto with_cards = picture_with(true);
    const auto box = find_edge(with_cards);
    REQUIRE(box);
    CHECK(box->x_px + box->width_px < 320);  // of the left card
    const auto sharp = edge_sharpness(with_cards, *box);
    REQUIRE(sharp);
    CHECK(sharp->edge_degrees == Approx(6.0).margin(0.2));
    const double half = std::sqrt(-std::log(0.5) / 2.0) / (std::numbers::pi * 0.8);
    CHECK(sharp->sfr50_cycles_per_px == Approx(half).epsilon(0.05));
    CHECK(find_edge(picture_with(false)).error().code == "sharpness.none-found");
    std::stop_source stop;
    stop.request_stop();
    CHECK(find_edge(with_cards, Progress(stop.get_token(), {})).error().code == "cancelled");
}

TEST_CASE("Noise of a patch is its standard deviation of L*, whatever the light falls off by") {
    // Gaussian as above, of all three channels alike; CIE 1976: dL* = (L* + 16) / 3 · dY / Y.
    const double y_mean = GENERATE(0.1, 0.4);
    const double share = GENERATE(0.01, 0.05);
    const bool falls_off = GENERATE(false, true);
    const auto picture = made(300, 200, [&](int x, int y, int) {
        return y_mean * (1 + share * noise(x, y, 0)) * (falls_off ? 1.0 - 0.0005 * x : 1.0);
    });
    const auto measured = patch_noise(picture, {40, 20, 200, 160});
    REQUIRE(measured);
    const double l = 116.0 * std::cbrt(y_mean * (falls_off ? 1.0 - 0.0005 * 139.5 : 1.0)) - 16.0;
    CHECK(measured->lightness_l == Approx(l).margin(0.1));
    CHECK(measured->noise_l == Approx((l + 16.0) / 3.0 * share).epsilon(0.03));
    CHECK(measured->pixels == 32'000);

    const auto edge = made(
        300, 200, [&](int x, int y, int) { return (x < 150 ? y_mean : 0.8 * y_mean) * (1 + share * noise(x, y, 0)); });
    CHECK(patch_noise(edge, {40, 20, 200, 160}).error().code == "noise.not-uniform");
    CHECK(patch_noise(picture, {290, 20, 200, 160}).error().code == "noise.box");
    CHECK(patch_noise(picture, {40, 20, 20, 160}).error().code == "noise.box");
    CHECK(patch_noise(made(60, 60, [](int, int, int) { return 1.0; }), {0, 0, 60, 60}).error().code == "noise.clipped");
    CHECK(patch_noise(made(60, 60, [](int, int, int) { return 0.0; }), {0, 0, 60, 60}).error().code ==
          "noise.too-dark");
}

TEST_CASE("The rhythm of a ruler's ticks gives the scale better than pointing does") {
    constexpr double px_per_mm = 7.3137;
    const double a = 0.1;
    const auto ruler = made(900, 300, [&](int x, int y, int) {
        const double mm = ((x - 40) * std::cos(a) + (y - 80) * std::sin(a)) / px_per_mm;
        const double from_tick = std::abs(mm - std::round(mm)) * px_per_mm;
        return from_tick < 1.0 ? 0.1 : 0.7;
    });
    // 100 mm along the ruler, pointed at with two pixels too much.
    const PointPx from{40, 80};
    const PointPx to{40 + (100 * px_per_mm + 2) * std::cos(a), 80 + (100 * px_per_mm + 2) * std::sin(a)};
    const auto scale = scale_from_ruler(ruler, from, to, 100.0);
    REQUIRE(scale);
    CHECK(scale->from_ticks);
    CHECK(scale->px_per_mm == Approx(px_per_mm).epsilon(0.0005));

    const auto plain = made(900, 300, [](int, int, int) { return 0.5; });
    const auto pointed = scale_from_ruler(plain, {10, 10}, {810, 10}, 100.0);
    REQUIRE(pointed);
    CHECK_FALSE(pointed->from_ticks);
    CHECK(pointed->px_per_mm == Approx(8.0));
    // A black frame has no rhythm at all, and a strip one pixel wide has no neighbour to the right.
    for (const auto& dark : {made(900, 300, [](int, int, int) { return 0.0; }),
                             made(1, 900, [](int, int y, int) { return y % 8 == 0 ? 0.1 : 0.6; })}) {
        const bool strip = dark.linear.width_px() == 1;
        const auto told = scale_from_ruler(dark, {0, 0}, {strip ? 0.0 : 800.0, strip ? 800.0 : 0.0}, 100.0);
        REQUIRE(told);
        CHECK(told->from_ticks == strip);
        CHECK(told->px_per_mm == Approx(8.0).epsilon(0.001));
    }
    CHECK(scale_from_ruler(plain, {10, 10}, {12, 10}, 100.0).error().code == "scale.points");
    CHECK(scale_from_ruler(plain, {10, 10}, {810, 10}, 0.0).error().code == "scale.length");

    CHECK(scale_from_sides(3000, 4000, {600, 800})->px_per_mm == Approx(5.0));
    CHECK(scale_from_sides(3000, 4000, {600, 700}).error().code == "scale.sides-disagree");
}
