#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>

#include "sample_files.hpp"
#include "tedge/base/files.hpp"
#include "tedge/imaging/colour.hpp"
#include "tedge/imaging/picture.hpp"
#include "tedge/imaging/srgb_view.hpp"
#include "temporary_folder.hpp"

using namespace tedge;
using namespace tedge::imaging;

namespace {

Picture read_raw(const std::filesystem::path& file, RawRendering rendering = RawRendering::view) {
    auto picture = read_picture(file, {.raw = rendering});
    INFO((picture ? std::string() : picture.error().message));
    REQUIRE(picture);
    REQUIRE(picture->kind == PictureKind::camera_raw);
    return std::move(*picture);
}

}  // namespace

// A made mosaic: a quarter and a half of white, camera primaries those of sRGB (DNG 1.4).
TEST_CASE("a camera raw file is developed without automatic brightening") {
    const TemporaryFolder folder;
    samples::write_dng(folder / "plate.dng", 96, 64, 1);
    const Picture view = read_raw(folder / "plate.dng");
    CHECK(view.bits() == 16);
    CHECK(view.size() == SizePx{96, 64});
    CHECK(view.metadata.camera_make == "Invented");
    CHECK(view.icc_profile.empty());
    const auto& px = std::get<Raster16>(view.pixels);
    for (int c = 0; c < 3; ++c) {
        CHECK(px.at(20, 32, c) / 65535.0 == Approx(srgb_encoded(0.25)).margin(0.01));
        CHECK(px.at(76, 32, c) / 65535.0 == Approx(srgb_encoded(0.5)).margin(0.01));
    }
    CHECK(to_srgb8(view));

    const Picture linear = read_raw(folder / "plate.dng", RawRendering::camera_linear);
    const auto& values = std::get<Raster16>(linear.pixels);
    for (int c = 0; c < 3; ++c) {
        CHECK(values.at(20, 32, c) / 65535.0 == Approx(0.25).margin(0.002));
        CHECK(values.at(76, 32, c) / 65535.0 == Approx(0.5).margin(0.002));
    }
    REQUIRE(linear.camera_space);
    CHECK(linear.camera_space->white_balance[0] == Approx(1.0).margin(0.01));
    CHECK(to_srgb8(linear).error().code == "picture.camera-space");
}

TEST_CASE("two exposures of one camera stay on one scale, however near the brightest comes to the sensor's limit") {
    const TemporaryFolder folder;
    const auto linear = [&](const samples::DngMake& make) {
        samples::write_dng(folder / "plate.dng", 96, 64, make);
        return std::get<Raster16>(read_raw(folder / "plate.dng", RawRendering::camera_linear).pixels);
    };
    const auto level = [](const Raster16& px, int x0) {
        double sum = 0.0;
        for (int y = 16; y < 48; ++y)
            for (int x = x0; x < x0 + 32; ++x) sum += px.at(x, y, 1) / 65535.0 / 1024.0;
        return sum;
    };
    for (const double bright : {0.5, 0.74, 0.78, 0.85, 0.9}) {
        CAPTURE(bright);
        const Raster16 px = linear({.left = 0.25, .right = bright, .noise = 0.08});
        CHECK(level(px, 8) == Approx(0.25).margin(0.004));
        CHECK(level(px, 56) == Approx(bright).margin(0.008));
    }
    // Full, it is told as clipped.
    CHECK(linear({.left = 0.25, .right = 1.0}).at(76, 32, 1) >= 64880);
}

TEST_CASE("a raw file without the camera's white balance is taken for daylight, not for grey on average") {
    const TemporaryFolder folder;
    samples::write_dng(folder / "warm.dng", 96, 64, {.red = 1.4, .white_balance = false});
    const Picture warm = read_raw(folder / "warm.dng", RawRendering::camera_linear);
    const auto& px = std::get<Raster16>(warm.pixels);
    // The primaries are those of sRGB, whose white is daylight: nothing is multiplied.
    CHECK(px.at(20, 32, 0) / 65535.0 == Approx(0.35).margin(0.01));
    CHECK(px.at(20, 32, 1) / 65535.0 == Approx(0.25).margin(0.01));
    REQUIRE(warm.notes.size() == 1);
    CHECK(warm.notes[0].find("daylight") != std::string::npos);
    samples::write_dng(folder / "warm.dng", 96, 64, {.red = 1.4});
    CHECK(read_raw(folder / "warm.dng").notes.empty());
}

TEST_CASE("a raw file taken upright is turned") {
    const TemporaryFolder folder;
    samples::write_dng(folder / "turned.dng", 96, 64, 6);
    const Picture view = read_raw(folder / "turned.dng");
    CHECK(view.size() == SizePx{64, 96});
    CHECK(view.metadata.orientation_in_file == 6);
    // First column is the top: the darker left half is the upper one now.
    const auto& px = std::get<Raster16>(view.pixels);
    CHECK(px.at(32, 20, 1) < px.at(32, 76, 1));
    const auto probe = probe_picture(folder / "turned.dng");
    REQUIRE(probe);
    CHECK(probe->size == view.size());
    CHECK(probe->kind == PictureKind::camera_raw);
}

// Real files, where the tester has them: named by TEDGE_TEST_PHOTOS.
TEST_CASE("real camera raw files", "[photos]") {
    const char* folder = std::getenv("TEDGE_TEST_PHOTOS");
    if (folder == nullptr) {
        WARN("TEDGE_TEST_PHOTOS is not set: real raw files were not read");
        return;
    }
    const auto raw = std::filesystem::path(folder) / "raw" / "colorchart_canon_kissx4_24patch.dng";
    const Picture view = read_raw(raw);
    CHECK(view.size() == SizePx{1734, 1156});
    CHECK(view.bits() == 16);
    CHECK(view.channels() == 3);
    CHECK_FALSE(view.metadata.camera_model.empty());
    // The chart's row of neutrals, white to black, as its centres were measured: each darker than the one before.
    const auto& px = std::get<Raster16>(view.pixels);
    const int centres[6] = {703, 813, 925, 1035, 1146, 1256};
    const auto level = [&px](int x) {
        double sum = 0.0;
        for (int dy = -10; dy <= 10; ++dy)
            for (int dx = -10; dx <= 10; ++dx) sum += px.at(x + dx, 926 + dy, 1);
        return sum / 441.0;
    };
    for (int i = 1; i < 6; ++i) CHECK(level(centres[i]) < 0.97 * level(centres[i - 1]));
    const auto kodak = read_raw(std::filesystem::path(folder) / "raw" / "kodak_dc50_768x512.kdc");
    CHECK(kodak.size() == SizePx{768, 512});

    const TemporaryFolder temporary;
    const std::string bytes = read_file(raw).value();
    for (const double share : {0.2, 0.5, 0.9, 0.99}) {
        samples::save(temporary / "cut.dng",
                      bytes.substr(0, static_cast<std::size_t>(share * static_cast<double>(bytes.size()))));
        const auto cut = read_picture(temporary / "cut.dng");
        REQUIRE_FALSE(cut);
        CHECK(cut.error().code == "picture.damaged");
    }
}
