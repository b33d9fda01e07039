#include "tedge/imaging/colour_difference.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "sample_files.hpp"

using namespace tedge;
using namespace tedge::imaging;

namespace {

Lab lab_of(const Raster8& pixels, int x, int y) {
    return lab_from_srgb8(pixels.at(x, y, 0), pixels.at(x, y, 1), pixels.at(x, y, 2));
}

double worst_error(const Raster8& first, const Raster8& second, LightnessWeight lightness) {
    const auto map = colour_difference(first, second, {.lightness = lightness}).value().delta_e00;
    double worst = 0.0;
    for (int y = 0; y < first.height_px(); ++y)
        for (int x = 0; x < first.width_px(); ++x) {
            const double exact = delta_e00(lab_of(first, x, y), lab_of(second, x, y), lightness);
            worst = std::max(worst, std::abs(static_cast<double>(map.at(x, y)) - exact));
        }
    return worst;
}

// Small steps from every pixel, as between two photographs of one picture.
Raster8 nearby(const Raster8& pixels, int reach) {
    std::mt19937 random(7);
    Raster8 out = pixels;
    for (auto& sample : out.samples()) {
        const int step = static_cast<int>(random() % static_cast<unsigned>(2 * reach + 1)) - reach;
        sample = static_cast<std::uint8_t>(std::clamp(sample + step, 0, 255));
    }
    return out;
}

// Greys, near greys, primaries, blacks: where the formula has its corners.
Raster8 corners() {
    std::vector<std::array<std::uint8_t, 3>> colours;
    for (const int v : {0, 1, 2, 3, 10, 64, 127, 128, 200, 254, 255})
        for (const int d : {-1, 0, 1})
            for (const int which : {0, 1, 2}) {
                std::array<std::uint8_t, 3> c{};
                c.fill(static_cast<std::uint8_t>(v));
                c[static_cast<std::size_t>(which)] = static_cast<std::uint8_t>(std::clamp(v + d, 0, 255));
                colours.push_back(c);
            }
    for (int bits = 0; bits < 8; ++bits)
        colours.push_back({static_cast<std::uint8_t>(bits & 1 ? 255 : 0), static_cast<std::uint8_t>(bits & 2 ? 255 : 0),
                           static_cast<std::uint8_t>(bits & 4 ? 255 : 0)});
    const int n = static_cast<int>(colours.size());
    Raster8 out(n, 1, 3);
    for (int i = 0; i < n; ++i)
        for (int c = 0; c < 3; ++c) out.at(i, 0, c) = colours[static_cast<std::size_t>(i)][static_cast<std::size_t>(c)];
    return out;
}

Raster8 spread(const Raster8& row, bool down) {
    const int n = row.width_px();
    Raster8 out(n, n, 3);
    for (int y = 0; y < n; ++y)
        for (int x = 0; x < n; ++x)
            for (int c = 0; c < 3; ++c) out.at(x, y, c) = row.at(down ? y : x, 0, c);
    return out;
}

}  // namespace

TEST_CASE("the fast map agrees with the formula in double precision") {
    for (const auto lightness : {LightnessWeight::standard, LightnessWeight::one}) {
        const Raster8 noise = samples::noisy8(600, 500, 3);
        Raster8 other(600, 500, 3);
        std::reverse_copy(noise.samples().begin(), noise.samples().end(), other.samples().begin());
        CHECK(worst_error(noise, other, lightness) < 0.01);
        CHECK(worst_error(noise, nearby(noise, 2), lightness) < 0.01);
        CHECK(worst_error(noise, nearby(noise, 20), lightness) < 0.01);
        // Every corner against every corner.
        CHECK(worst_error(spread(corners(), false), spread(corners(), true), lightness) < 0.01);
    }
    CHECK(worst_error(samples::noisy8(50, 50, 3), samples::noisy8(50, 50, 3), LightnessWeight::standard) == 0.0);
}

TEST_CASE("16-bit pixels give the same map as 8-bit ones of the same value") {
    const Raster8 first = samples::noisy8(300, 40, 3), second = nearby(first, 9);
    Raster16 first16(300, 40, 3), second16(300, 40, 3);
    const auto widened = [](std::uint8_t v) { return static_cast<std::uint16_t>(v * 257); };
    std::ranges::transform(first.samples(), first16.samples().begin(), widened);
    std::ranges::transform(second.samples(), second16.samples().begin(), widened);
    const auto shallow = colour_difference(first, second).value();
    const auto deep = colour_difference(first16, second16).value();
    for (std::size_t i = 0; i < shallow.delta_e00.samples().size(); ++i)
        REQUIRE(std::abs(shallow.delta_e00.samples()[i] - deep.delta_e00.samples()[i]) < 1e-3F);
}

TEST_CASE("maps of one part of the colour are those of CIE 15, with their sign") {
    const Raster8 first = samples::noisy8(200, 100, 3);
    for (const Raster8& second : {nearby(first, 3), nearby(first, 60), samples::smooth8(200, 100, 3)}) {
        std::array<RasterF, 6> maps;
        for (const DifferenceKind kind : all_difference_kinds)
            maps[static_cast<std::size_t>(kind)] = difference_map(first, second, kind).value();
        for (int y = 0; y < 100; ++y)
            for (int x = 0; x < 200; ++x) {
                const auto at = [&](DifferenceKind kind) {
                    return static_cast<double>(maps[static_cast<std::size_t>(kind)].at(x, y));
                };
                const Lab p = lab_of(first, x, y), q = lab_of(second, x, y);
                const double c1 = std::hypot(p.a, p.b), c2 = std::hypot(q.a, q.b);
                REQUIRE(std::abs(at(DifferenceKind::delta_l) - (q.l - p.l)) < 0.01);
                REQUIRE(std::abs(at(DifferenceKind::delta_a) - (q.a - p.a)) < 0.01);
                REQUIRE(std::abs(at(DifferenceKind::delta_b) - (q.b - p.b)) < 0.01);
                REQUIRE(std::abs(at(DifferenceKind::delta_c) - (c2 - c1)) < 0.01);
                // CIE 15: ΔE*ab² = ΔL*² + ΔC*ab² + ΔH*ab², so size follows without an angle.
                const double hue = at(DifferenceKind::delta_h);
                const double e2 = std::pow(q.a - p.a, 2) + std::pow(q.b - p.b, 2);
                REQUIRE(std::abs(hue * hue - (e2 - std::pow(c2 - c1, 2))) < 0.02 * std::max(1.0, std::abs(hue)));
                const double turn = p.a * q.b - p.b * q.a;
                if (std::abs(turn) > 0.5 && std::abs(hue) > 0.1) REQUIRE((hue > 0.0) == (turn > 0.0));
            }
        CHECK(maps[0] == colour_difference(first, second).value().delta_e00);
    }
    // Red to yellow: hue turns upwards, lightness rises.
    Raster8 red(1, 1, 3), yellow(1, 1, 3);
    red.at(0, 0, 0) = yellow.at(0, 0, 0) = yellow.at(0, 0, 1) = 200;
    CHECK(difference_map(red, yellow, DifferenceKind::delta_h).value().at(0, 0) > 20.0F);
    CHECK(difference_map(yellow, red, DifferenceKind::delta_h).value().at(0, 0) < -20.0F);
    CHECK(difference_map(red, Raster8(2, 1, 3), DifferenceKind::delta_l).error().code ==
          "colour-difference.sizes-differ");
}

TEST_CASE("maps are called by their words") {
    for (const DifferenceKind kind : all_difference_kinds) CHECK(parse_difference_kind(to_text(kind)).value() == kind);
    const auto wrong = parse_difference_kind("delta-x");
    REQUIRE_FALSE(wrong);
    CHECK(wrong.error().code == "colour-difference.unknown-map");
    CHECK(wrong.error().next.find("delta-h") != std::string::npos);
    CHECK(ends_of(DifferenceKind::delta_b).more == "yellower");
}

TEST_CASE("figures of a map with a sign") {
    RasterF map(101, 1, 1);
    for (int i = 0; i <= 100; ++i) map.at(i, 0) = static_cast<float>((i * 37) % 101) - 80.0F;  // -80 to 20
    const auto figures = statistics_of(map).value();
    CHECK(figures.mean == Approx(-30.0));
    CHECK(figures.min == Approx(-80.0));
    CHECK(figures.p05 == Approx(-75.0));
    CHECK(figures.p50 == Approx(-30.0));
    CHECK(figures.p95 == Approx(15.0));
    CHECK(figures.max == Approx(20.0));
    RasterF below(1, 1, 1);
    below.at(0, 0) = -500.0F;
    CHECK(statistics_of(below).value().max == Approx(-500.0));
}

TEST_CASE("figures over all pixels and over those that count") {
    RasterF map(10, 10, 1);
    for (int i = 0; i < 100; ++i)
        map.samples()[static_cast<std::size_t>((i * 37) % 100)] = static_cast<float>(i) * 0.25F;
    // 0, 0.25 … 24.75: mean 12.375; ranks 49.5 and 94.05 of 0 to 99.
    const auto all = statistics_of(map).value();
    CHECK(all.mean == Approx(12.375));
    CHECK(all.p50 == Approx(12.375));
    CHECK(all.p95 == Approx(94.05 * 0.25));
    CHECK(all.max == Approx(24.75));
    CHECK(all.pixels == 100);
    Raster8 counted(10, 10, 1);
    for (std::size_t i = 0; i < 100; ++i) counted.samples()[i] = map.samples()[i] >= 20.0F ? 255 : 0;
    const auto gated = statistics_of(map, &counted).value();
    CHECK(gated.pixels == 20);
    CHECK(gated.p50 == Approx((20.0 + 24.75) / 2));
    CHECK_FALSE(statistics_of(map, std::make_unique<Raster8>(10, 10, 1).get()));
    RasterF huge(2, 1, 1);
    huge.at(0, 0) = 1000.0F, huge.at(1, 0) = 500.0F;
    CHECK(statistics_of(huge).value().p50 == Approx(750.0));
}

TEST_CASE("the report says what it includes") {
    const Raster8 first = samples::smooth8(40, 30, 3), second = nearby(first, 5);
    const auto plain = colour_difference(first, second).value().report;
    CHECK(plain.note == "includes gloss");
    CHECK_FALSE(plain.gated);
    CHECK(plain.megapixels == Approx(0.0012));
    CHECK(plain.seconds > 0.0);
    CHECK(plain.all.max >= plain.all.p95);
    CHECK(colour_difference(first, second, {.both_cross_polarised = true}).value().report.note.empty());
    Raster8 gate(40, 30, 1);
    gate.at(3, 3) = 1;
    const auto one = colour_difference(first, second, {.counted = &gate}).value();
    REQUIRE(one.report.gated);
    CHECK(one.report.gated->max == Approx(static_cast<double>(one.delta_e00.at(3, 3))));
}

TEST_CASE("what cannot be compared is refused") {
    const Raster8 first = samples::smooth8(40, 30, 3);
    CHECK(colour_difference(first, samples::smooth8(41, 30, 3)).error().code == "colour-difference.sizes-differ");
    CHECK(colour_difference(samples::smooth8(4, 3, 1), samples::smooth8(4, 3, 1)).error().code ==
          "colour-difference.not-colour");
    CHECK(colour_difference(Raster8(), Raster8()).error().code == "colour-difference.empty");
    const Raster8 gate(4, 4, 1);
    CHECK(colour_difference(first, first, {.counted = &gate}).error().code == "colour-difference.gate-differs");
    std::stop_source stop;
    stop.request_stop();
    CHECK(colour_difference(first, first, {}, Progress(stop.get_token(), {})).error().code == "cancelled");
}
