#include "tedge/imaging/crack_map.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>
#include <numbers>
#include <stop_token>

#include "crack_pictures.hpp"
#include "must.hpp"
#include "tedge/imaging/crack_figures.hpp"

using namespace tedge;
using namespace tedge::imaging;
using namespace tedge::test_support;

namespace {

Raster8 plain(SizePx size, std::uint8_t value) {
    Raster8 out(size.width_px, size.height_px, 3);
    std::ranges::fill(out.samples(), value);
    return out;
}

// A straight line through the middle, a width and a depth for all of it.
MadeCrack straight(SizePx size, double degrees, double length, double width, double depth) {
    MadeCrack out{{}, width, depth, false};
    const double angle = degrees * std::numbers::pi / 180.0;
    for (double t = -length / 2; t <= length / 2; t += 0.5)
        out.line.push_back({size.width_px / 2.0 + t * std::cos(angle), size.height_px / 2.0 - t * std::sin(angle)});
    return out;
}

}  // namespace

TEST_CASE("A straight crack has its length, width, depth and direction, whatever way it runs") {
    constexpr SizePx size{300, 300};
    for (const double degrees : {0.0, 12.5, 45.0, 71.0, 90.0, 133.0}) {
        for (const double width : {2.0, 4.0, 7.0}) {
            CAPTURE(degrees, width);
            Raster8 picture = plain(size, 200);
            draw_lines(picture, {straight(size, degrees, 200.0, width, 0.5)});
            const auto figures = must(crack_figures(must(crack_map(picture))));
            CHECK(std::abs(figures.length_px - 200.0) < 12.0);  // its ends are round
            CHECK(std::abs(figures.median_width_px - width) < 0.6);
            CHECK(std::abs(figures.median_depth - 100.0) < 16.0);
            CHECK(std::abs(std::remainder(figures.directions.main_degrees - degrees, 180.0)) < 1.5);
            CHECK(figures.directions.directed > 0.97);
        }
    }
}

TEST_CASE("Edges, spots, noise and even paint are no cracks") {
    Raster8 picture = plain({300, 300}, 180);
    for (int y = 0; y < 300; ++y)
        for (int x = 0; x < 300; ++x) {
            const bool dark_field = x > 150 && y > 40;
            const bool spot = std::hypot(x - 60, y - 200) < 4 || std::hypot(x - 90, y - 90) < 2;
            for (int c = 0; c < 3; ++c)
                picture.at(x, y, c) = static_cast<std::uint8_t>((dark_field ? 60
                                                                 : spot     ? 30
                                                                            : 180) +
                                                                8 * counted(4, x, y));
        }
    CHECK(must(crack_map(picture)).cracks.empty());
    CHECK(must(crack_map(plain({40, 30}, 255))).cracks.empty());
    CHECK(must(crack_map(plain({1, 1}, 0))).cracks.empty());
}

TEST_CASE("Made cracks on made paint are found among brush strokes and hairs") {
    // The figures of more pictures are those of bench_cracks.
    const CrackPicture picture = made_crack_picture(1, {700, 560}, 2);
    const Raster8 found = crack_lines(must(crack_map(picture.srgb)));
    CHECK(share_within(found, picture.truth, 3) > 0.8);
    CHECK(share_within(picture.truth, found, 3) > 0.8);
}

TEST_CASE("Lines of another hue that run abreast are drawing, and a map full of them says so") {
    constexpr SizePx size{420, 300};
    const auto hatched = [&](Raster8 picture) {
        std::vector<MadeCrack> lines;
        for (int i = 0; i < 14; ++i) {
            MadeCrack line{{}, 2.5, 0.7, true};
            for (double t = 0.0; t < 90.0; t += 0.5) line.line.push_back({60.0 + t, 60.0 + 9.0 * i + 0.3 * t});
            lines.push_back(std::move(line));
        }
        Raster8 dark = picture;
        draw_lines(dark, lines);
        for (int y = 0; y < size.height_px; ++y)
            for (int x = 0; x < size.width_px; ++x)  // red: its light is left
                for (int c = 1; c < 3; ++c) picture.at(x, y, c) = dark.at(x, y, c);
        return std::pair(picture, middle_lines(lines, size));
    };
    const auto [drawing, drawn] = hatched(plain(size, 200));
    const CrackMap of_drawing = must(crack_map(drawing));
    CHECK(share_within(drawn, crack_lines(of_drawing), 2) < 0.3);
    CHECK(of_drawing.drawn_share > much_drawn);
    Raster8 both = drawing;
    const std::vector<MadeCrack> cracks{straight(size, 20.0, 380.0, 2.5, 0.6), straight(size, 100.0, 250.0, 2.5, 0.6)};
    draw_lines(both, cracks);
    const Raster8 found = crack_lines(must(crack_map(both)));
    CHECK(share_within(middle_lines(cracks, size), found, 2) > 0.85);
    // The same lines in the paint's own hue, far apart, are cracks.
    Raster8 cracked = plain(size, 200);
    draw_lines(cracked, cracks);
    const CrackMap of_cracks = must(crack_map(cracked));
    CHECK(of_cracks.drawn_share == 0.0);
    CHECK(share_within(middle_lines(cracks, size), crack_lines(of_cracks), 2) > 0.95);
}

TEST_CASE("Light cracks are found when asked for, and only then") {
    constexpr SizePx size{260, 200};
    Raster8 picture = plain(size, 90);
    const std::vector<MadeCrack> lines{straight(size, 30.0, 160.0, 3.0, -0.8)};
    draw_lines(picture, lines);
    CHECK(must(crack_map(picture)).cracks.empty());
    CrackOptions light;
    light.tone = CrackTone::light;
    const Raster8 found = crack_lines(must(crack_map(picture, light)));
    CHECK(share_within(middle_lines(lines, size), found, 2) > 0.95);
    CHECK(share_within(found, middle_lines(lines, size), 2) == 1.0);
}

TEST_CASE("Nothing is looked for outside the part that counts") {
    constexpr SizePx size{300, 200};
    Raster8 picture = plain(size, 200);
    draw_lines(picture, {straight(size, 0.0, 280.0, 3.0, 0.6)});
    Raster8 left_half(size.width_px, size.height_px, 1);
    for (int y = 0; y < 200; ++y)
        for (int x = 0; x < 150; ++x) left_half.at(x, y) = 255;
    CrackOptions options;
    options.counted = &left_half;
    const auto map = must(crack_map(picture, options));
    REQUIRE_FALSE(map.cracks.empty());
    for (const Crack& crack : map.cracks)
        for (const CrackPixel& pixel : crack.pixels) CHECK(pixel.at.x < 150);
}

TEST_CASE("A crack map refuses what is none of its pictures, and stops when asked") {
    const Raster8 picture = plain({64, 64}, 100);
    CHECK(crack_map(Raster8()).error().code == "cracks.empty");
    CHECK(crack_map(Raster8(8, 8, 2)).error().code == "cracks.channels");
    CrackOptions options;
    options.widest_px = 200;
    CHECK(crack_map(picture, options).error().code == "cracks.options");
    const Raster8 other(3, 3, 1);
    options = {};
    options.counted = &other;
    CHECK(crack_map(picture, options).error().code == "cracks.gate-differs");
    std::stop_source stop;
    stop.request_stop();
    CHECK(crack_map(picture, {}, Progress(stop.get_token(), {})).error().code == "cancelled");
}

// Photographs that are not part of the project: TEDGE_TEST_PHOTOS names their folder.
TEST_CASE("Photographed craquelure agrees with its published skeletons within three pixels") {
    const char* folder = std::getenv("TEDGE_TEST_PHOTOS");
    if (folder == nullptr) {
        WARN("TEDGE_TEST_PHOTOS is not set: no real craquelure was mapped");
        return;
    }
    for (const auto name : crack_photographs) {
        CAPTURE(name);
        const CrackPicture picture = crack_photograph(folder, name);
        const Raster8 found = crack_lines(must(crack_map(picture.srgb)));
        CHECK(share_within(found, picture.truth, 3) > 0.87);
        CHECK(share_within(picture.truth, found, 3) > 0.88);
    }
}
