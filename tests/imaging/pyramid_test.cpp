#include "tedge/imaging/pyramid.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <thread>

#include "sample_files.hpp"
#include "tedge/base/files.hpp"
#include "tedge/imaging/colour.hpp"
#include "tedge/imaging/shrink.hpp"
#include "temporary_folder.hpp"

using namespace tedge;
using namespace tedge::imaging;

namespace {

Picture picture_of(Raster8 pixels) {
    return {.kind = PictureKind::png, .pixels = std::move(pixels)};
}

PyramidReader built(const std::filesystem::path& file, const Raster8& pixels, const PyramidOptions& options = {}) {
    REQUIRE(build_pyramid(picture_of(pixels), file, options));
    auto reader = PyramidReader::open(file);
    REQUIRE(reader);
    return *reader;
}

double mean_linear(const Raster8& pixels) {
    double sum = 0.0;
    for (const std::uint8_t v : pixels.samples()) sum += srgb_decoded(v / 255.0);
    return sum / static_cast<double>(pixels.samples().size());
}

// The straightforward way in double precision: the average light of the source pixels under one pixel of the level.
double area_value(const Raster8& pixels, int level, int x, int y, int channel) {
    const int side = 1 << level;
    double sum = 0.0;
    for (int dy = 0; dy < side; ++dy)
        for (int dx = 0; dx < side; ++dx) sum += srgb_decoded(pixels.at(x * side + dx, y * side + dy, channel) / 255.0);
    return 255.0 * srgb_encoded(sum / (side * side));
}

}  // namespace

TEST_CASE("the shape of a pyramid") {
    const auto shape = PyramidShape::of({1001, 600}, 256);
    CHECK(shape.levels == 3);
    CHECK(shape.level_size(1) == SizePx{501, 300});
    CHECK(shape.level_size(2) == SizePx{251, 150});
    CHECK(shape.tile_count(0) == SizePx{4, 3});
    CHECK(shape.tile_size(0, 3, 2) == SizePx{1001 - 768, 600 - 512});
    CHECK(PyramidShape::of({256, 256}, 256).levels == 1);
    CHECK(PyramidShape::of({257, 1}, 256).levels == 2);
    CHECK(PyramidShape::of({1, 1}, 256).tile_count(0) == SizePx{1, 1});
}

TEST_CASE("levels are averages of light over areas") {
    const TemporaryFolder folder;
    const Raster8 pixels = samples::noisy8(512, 384, 3);
    const auto reader = built(folder / "p", pixels, {.tile_px = 64, .jpeg_quality = 100});
    REQUIRE(reader.shape().levels == 4);
    for (int level = 0; level < 4; ++level) {
        const Raster8 got = reader.level(level).value();
        double worst = 0.0;
        for (int y = 0; y < got.height_px(); ++y)
            for (int x = 0; x < got.width_px(); ++x)
                for (int c = 0; c < 3; ++c)
                    worst = std::max(worst, std::abs(got.at(x, y, c) - area_value(pixels, level, x, y, c)));
        INFO("level " << level);
        CHECK(worst <= 5.0);  // what JPEG at quality 100 loses on noise, through its own colour space
    }
}

// Canvas weave and cracks are fine contrast: if sRGB values were averaged, the lightness would fall with every level.
TEST_CASE("the mean light is the same at every zoom") {
    const TemporaryFolder folder;
    Raster8 weave(1024, 768, 3);
    for (int y = 0; y < 768; ++y)
        for (int x = 0; x < 1024; ++x)
            for (int c = 0; c < 3; ++c) weave.at(x, y, c) = (x / 3 + y / 3) % 2 == 0 ? 240 : 40;
    const auto reader = built(folder / "p", weave);
    const double full = mean_linear(weave);
    for (int level = 0; level < reader.shape().levels; ++level)
        CHECK(mean_linear(reader.level(level).value()) == Approx(full).epsilon(0.01));
    CHECK(mean_linear(reader.preview(100).value()) == Approx(full).epsilon(0.01));
    CHECK(mean_linear(shrunk_to_fit(weave, 37)) == Approx(full).epsilon(0.01));
}

// A weave of period 6.3 px shrunk 16 times: point sampling would show bands over the full contrast.
TEST_CASE("fine weave shows no false pattern") {
    const TemporaryFolder folder;
    Raster8 weave(2048, 256, 3);
    for (int y = 0; y < 256; ++y)
        for (int x = 0; x < 2048; ++x)
            for (int c = 0; c < 3; ++c)
                weave.at(x, y, c) =
                    static_cast<std::uint8_t>(std::lround(128.0 + 60.0 * std::sin(x * 2.0 * 3.14159265 / 6.3)));
    const auto reader = built(folder / "p", weave, {.tile_px = 64});
    const Raster8 small = reader.level(4).value();
    int low = 255, high = 0;
    for (int x = 0; x < small.width_px(); ++x)
        low = std::min<int>(low, small.at(x, 4)), high = std::max<int>(high, small.at(x, 4));
    // An average over 16 px leaves |sin(16 pi / 6.3) / (16 pi / 6.3)| = 12.4 % of the weave's 120 levels.
    CHECK(high - low <= 16);
}

TEST_CASE("tiles put together are the level, odd sizes included") {
    const TemporaryFolder folder;
    const Raster8 pixels = samples::smooth8(333, 201, 3);
    const auto reader = built(folder / "p", pixels, {.tile_px = 64});
    const Raster8 full = reader.level(0).value();
    CHECK(samples::largest_difference(full, pixels) <= 6);
    const Raster8 corner = reader.tile(0, 5, 3).value();
    CHECK(corner.size() == SizePx{333 - 320, 201 - 192});
    CHECK(corner.at(12, 8, 0) == full.at(332, 200, 0));
    CHECK(reader.preview(50).value().size() == SizePx{50, 30});
    CHECK(reader.preview(5000).value().size() == SizePx{333, 201});
    CHECK_THROWS_AS(reader.tile(0, 6, 0), std::out_of_range);
    CHECK_THROWS_AS(reader.tile(9, 0, 0), std::out_of_range);
    const auto dot = built(folder / "dot", samples::smooth8(1, 1, 1));
    CHECK(dot.level(0).value().size() == SizePx{1, 1});
}

TEST_CASE("the same picture makes the same file, and 16 bits and profiles go through the sRGB view") {
    const TemporaryFolder folder;
    const Raster8 pixels = samples::noisy8(150, 90, 3);
    REQUIRE(build_pyramid(picture_of(pixels), folder / "a"));
    REQUIRE(build_pyramid(picture_of(pixels), folder / "b"));
    CHECK(read_file(folder / "a").value() == read_file(folder / "b").value());
    Raster16 deep(150, 90, 3);
    std::ranges::transform(pixels.samples(), deep.samples().begin(),
                           [](std::uint8_t v) { return static_cast<std::uint16_t>(v * 257); });
    REQUIRE(build_pyramid({.kind = PictureKind::tiff, .pixels = deep}, folder / "c"));
    CHECK(read_file(folder / "c").value() == read_file(folder / "a").value());
}

TEST_CASE("a cancelled pyramid leaves nothing, a damaged one says so") {
    const TemporaryFolder folder;
    const Raster8 pixels = samples::noisy8(300, 300, 3);
    std::stop_source stop;
    const Progress progress(stop.get_token(), [&](double fraction, std::string_view) {
        if (fraction > 0.5) stop.request_stop();
    });
    const auto stopped = build_pyramid(picture_of(pixels), folder / "p", {}, progress);
    REQUIRE_FALSE(stopped);
    CHECK(stopped.error().code == "cancelled");
    CHECK(std::filesystem::is_empty(folder.path()));
    CHECK(build_pyramid(picture_of(pixels), folder / "p", {.tile_px = 10}).error().code == "pyramid.options");

    REQUIRE(build_pyramid(picture_of(pixels), folder / "p"));
    const std::string bytes = read_file(folder / "p").value();
    CHECK(PyramidReader::open(folder / "none").error().code == "files.missing");
    for (const std::size_t kept : {std::size_t{0}, std::size_t{20}, bytes.size() / 2, bytes.size() - 1}) {
        samples::save(folder / "cut", bytes.substr(0, kept));
        CHECK(PyramidReader::open(folder / "cut").error().code == "pyramid.damaged");
    }
    std::string newer = bytes;
    newer[8] = 2;
    samples::save(folder / "newer", newer);
    CHECK(PyramidReader::open(folder / "newer").error().code == "pyramid.other-version");
    std::string hollow = bytes;
    std::fill(hollow.begin() + 40, hollow.begin() + 4000, '\0');
    samples::save(folder / "hollow", hollow);
    CHECK(PyramidReader::open(folder / "hollow").value().tile(0, 0, 0).error().code == "pyramid.damaged");
}

TEST_CASE("several threads read one pyramid") {
    const TemporaryFolder folder;
    const auto reader = built(folder / "p", samples::smooth8(512, 512, 3), {.tile_px = 64});
    const Raster8 expected = reader.tile(0, 7, 7).value();
    std::atomic<int> wrong = 0;
    std::vector<std::jthread> threads;
    for (int t = 0; t < 4; ++t)
        threads.emplace_back([&] {
            for (int i = 0; i < 40; ++i) {
                static_cast<void>(reader.tile(0, i % 8, i / 8));
                if (!(reader.tile(0, 7, 7).value() == expected)) ++wrong;
            }
        });
    threads.clear();
    CHECK(wrong == 0);
}

// By hand: 3 × 1 to 2 × 1; each smaller pixel covers one and a half.
TEST_CASE("shrinking to any size weighs pixels by the area they share") {
    Raster8 row(3, 1, 1);
    row.at(0, 0) = 255, row.at(1, 0) = 0, row.at(2, 0) = 255;
    const Raster8 small = shrunk_to_fit(row, 2);
    REQUIRE(small.size() == SizePx{2, 1});
    CHECK(small.at(0, 0) == static_cast<int>(std::lround(255.0 * srgb_encoded(1.0 / 1.5))));
    CHECK(small.at(1, 0) == small.at(0, 0));
    const Raster8 pixels = samples::noisy8(97, 61, 3);
    CHECK(shrunk_to_fit(pixels, 97) == pixels);
    CHECK(preview_of(picture_of(pixels), 20).value() == shrunk_to_fit(pixels, 20));
    CHECK(fitted_size({1000, 3}, 100) == SizePx{100, 1});
}
