#include <catch2/catch.hpp>
#include <cmath>
#include <stop_token>

#include "painted_pair.hpp"
#include "tedge/imaging/registration.hpp"

using namespace tedge;
using namespace tedge::imaging;
using namespace tedge::test_support;

TEST_CASE("The identity changes no pixel, at any depth") {
    const Raster8 picture = photograph({.seed = 4, .stroke_px = 40.0, .layers = 3}, {75, 50}, {}, {}, 1);
    const auto same = resample(picture, PixelMap{}, picture.size());
    REQUIRE(same);
    CHECK(*same == picture);
    Raster16 deep(33, 20, 1);
    for (std::size_t i = 0; i < deep.samples().size(); ++i) deep.samples()[i] = static_cast<std::uint16_t>(i * 99);
    CHECK(resample(deep, PixelMap{}, deep.size()).value() == deep);
}

TEST_CASE("Keys' kernel with a = -0.5 carries polynomials of the second degree through exactly") {
    // R. G. Keys 1981: third-order convergence, so quadratics are reproduced.
    RasterF picture(80, 60, 1);
    const auto value = [](double x, double y) {
        return 0.5 + 0.01 * x - 0.02 * y + 1e-4 * x * x + 2e-4 * x * y - 1e-4 * y * y;
    };
    for (int y = 0; y < 60; ++y) {
        for (int x = 0; x < 80; ++x) picture.at(x, y) = static_cast<float>(value(x, y));
    }
    PixelMap map;
    map.homography = Homography::translation(0.25, -0.75);  // reference = moving + (0.25, -0.75)
    const auto moved = resample(picture, map, picture.size());
    REQUIRE(moved);
    for (int y = 4; y < 55; ++y) {
        for (int x = 4; x < 76; ++x) CHECK(moved->at(x, y) == Approx(value(x - 0.25, y + 0.75)).margin(2e-5));
    }
}

TEST_CASE("Half a pixel off, the kernel weighs its neighbours -1, 9, 9, -1 sixteenths") {
    RasterF picture(12, 9, 1);
    picture.at(6, 4) = 1.0F;
    PixelMap map;
    map.homography = Homography::translation(0.5, 0.0);
    const auto moved = resample(picture, map, picture.size());
    REQUIRE(moved);
    // Keys 1981, equation for a = -1/2 at s = 1/2 and 3/2.
    CHECK(moved->at(5, 4) == Approx(-1.0 / 16).margin(1e-6));
    CHECK(moved->at(6, 4) == Approx(9.0 / 16).margin(1e-6));
    CHECK(moved->at(7, 4) == Approx(9.0 / 16).margin(1e-6));
    CHECK(moved->at(8, 4) == Approx(-1.0 / 16).margin(1e-6));
}

TEST_CASE("A picture moved by a known amount comes back to lie on the reference, on any number of threads") {
    const PaintedScene scene{.seed = 6, .stroke_px = 60.0, .layers = 2};
    const SizePx size{150, 110};
    const KnownMove move{seen_from({.degrees = 8, .scale = 1.1, .perspective = 0.05}, size, size)};
    const Raster8 reference = photograph(scene, size, {}, {}, 1);
    const Raster8 moving = photograph(scene, size, move, {}, 2);
    const PixelMap map{move.homography, std::nullopt};
    const auto back = resample(moving, map, size, 1);
    REQUIRE(back);
    double squares = 0.0;
    int count = 0;
    for (int y = 30; y < 80; ++y) {
        for (int x = 40; x < 110; ++x) {
            for (int c = 0; c < 3; ++c, ++count) squares += std::pow(back->at(x, y, c) - reference.at(x, y, c), 2);
        }
    }
    CHECK(std::sqrt(squares / count) < 6.0);
    for (const int threads : {2, 4}) CHECK(resample(moving, map, size, threads).value() == *back);
}

TEST_CASE("Where the moving picture does not reach there is black; nothing is invented") {
    Raster8 white(20, 20, 3);
    for (auto& each : white.samples()) each = 255;
    PixelMap map;
    map.homography = Homography::translation(30.0, 0.0);
    const auto moved = resample(white, map, {60, 20});
    REQUIRE(moved);
    CHECK(moved->at(10, 10) == 0);
    CHECK(moved->at(29, 10) == 0);
    CHECK(moved->at(30, 10) == 255);
    CHECK(moved->at(49, 10) == 255);
    CHECK(moved->at(50, 10) == 0);
}

TEST_CASE("Resampling refuses what makes no sense and stops when asked") {
    const Raster8 picture(20, 20, 3);
    CHECK(resample(picture, PixelMap{}, {0, 10}).error().code == "registration.bad-options");
    CHECK(resample(Raster8{}, PixelMap{}, {10, 10}).error().code == "registration.bad-options");
    std::stop_source source;
    source.request_stop();
    CHECK(resample(picture, PixelMap{}, {50, 50}, 1, Progress(source.get_token(), {})).error().code == "cancelled");
    // A displacement that folds over itself: neighbouring coefficients that differ by more than their distance.
    std::vector<PointMm> wild;
    for (int i = 0; i < 64; ++i) wild.push_back({i % 2 == 0 ? 90.0 : -90.0, 0.0});
    PixelMap folded;
    folded.displacement = BsplineDisplacement::make({-10, -10}, 10, 8, 8, wild).value();
    CHECK(resample(picture, folded, {50, 50}).error().code == "geometry.no-inverse");
}
