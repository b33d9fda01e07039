#include <catch2/catch.hpp>
#include <cmath>

#include "sample_files.hpp"
#include "tedge/imaging/picture.hpp"
#include "tedge/imaging/srgb_view.hpp"
#include "temporary_folder.hpp"

using namespace tedge;
using namespace tedge::imaging;
using samples::rows_of;
using samples::TiffMake;
using samples::write_tiff;

namespace {

Picture read(const std::filesystem::path& file) {
    auto picture = read_picture(file);
    INFO((picture ? std::string() : picture.error().message));
    REQUIRE(picture);
    REQUIRE(picture->kind == PictureKind::tiff);
    return std::move(*picture);
}

}  // namespace

TEST_CASE("16-bit TIFF comes through exactly in every arrangement") {
    const TemporaryFolder folder;
    const Raster16 rgb = samples::exact16(75, 41, 3);
    // 1 none, 5 LZW, 8 deflate, 32773 PackBits (TIFF 6.0 and its supplements)
    for (const int compression : {1, 5, 8, 32773})
        for (const bool planes_apart : {false, true})
            for (const int tile : {0, 16}) {
                INFO("compression " << compression << " planes apart " << planes_apart << " tile " << tile);
                write_tiff(folder / "a.tif", 75, 41, rows_of(rgb),
                           {.bits = 16, .planes_apart = planes_apart, .tile = tile, .compression = compression});
                CHECK(std::get<Raster16>(read(folder / "a.tif").pixels) == rgb);
            }
    write_tiff(folder / "big.tif", 75, 41, rows_of(rgb), {.bits = 16, .big = true});
    CHECK(std::get<Raster16>(read(folder / "big.tif").pixels) == rgb);
    const Raster16 grey = samples::exact16(30, 20, 1);
    write_tiff(folder / "grey.tif", 30, 20, rows_of(grey), {.bits = 16, .samples = 1, .photometric = 1});
    CHECK(std::get<Raster16>(read(folder / "grey.tif").pixels) == grey);
    const auto probe = probe_picture(folder / "grey.tif");
    REQUIRE(probe);
    CHECK(probe->bits == 16);
    CHECK(probe->channels == 1);
}

TEST_CASE("TIFF of 8 bits and fewer") {
    const TemporaryFolder folder;
    const Raster8 grey = samples::smooth8(20, 10, 1);
    write_tiff(folder / "white.tif", 20, 10, rows_of(grey), {.samples = 1, .photometric = 0});
    CHECK(std::get<Raster8>(read(folder / "white.tif").pixels).at(3, 4) == 255 - grey.at(3, 4));
    write_tiff(folder / "bits.tif", 10, 1, {{0b10110000, 0b01000000}}, {.bits = 1, .samples = 1, .photometric = 1});
    const auto bits = std::get<Raster8>(read(folder / "bits.tif").pixels);
    CHECK(bits.at(0, 0) == 255);
    CHECK(bits.at(1, 0) == 0);
    CHECK(bits.at(3, 0) == 255);
    CHECK(bits.at(9, 0) == 255);
    write_tiff(folder / "four.tif", 3, 1, {{0x0F, 0x70}}, {.bits = 4, .samples = 1, .photometric = 1});
    CHECK(std::get<Raster8>(read(folder / "four.tif").pixels).at(1, 0) == 255);
    CHECK(std::get<Raster8>(read(folder / "four.tif").pixels).at(2, 0) == 7 * 17);
}

TEST_CASE("TIFF palettes of 16 bits, and of 8 as old writers left them") {
    const TemporaryFolder folder;
    std::vector<std::uint16_t> map(3 * 16, 0);
    map[5] = 65535, map[16 + 5] = 0x8080, map[32 + 5] = 0;
    write_tiff(folder / "p.tif", 2, 1, {{0x5A}}, {.bits = 4, .samples = 1, .photometric = 3, .colour_map = map});
    const auto p = std::get<Raster8>(read(folder / "p.tif").pixels);
    CHECK(p.at(0, 0, 0) == 255);
    CHECK(p.at(0, 0, 1) == 128);
    CHECK(p.at(0, 0, 2) == 0);
    map[5] = 200, map[16 + 5] = 100;
    write_tiff(folder / "old.tif", 2, 1, {{0x5A}}, {.bits = 4, .samples = 1, .photometric = 3, .colour_map = map});
    CHECK(std::get<Raster8>(read(folder / "old.tif").pixels).at(0, 0, 0) == 200);
}

TEST_CASE("floating-point TIFF is linear light") {
    const TemporaryFolder folder;
    RasterF values(4, 1, 3);
    const float in[12] = {0, 0, 0, 1, 1, 1, 0.5F, 0.5F, 0.5F, 2.0F, -1.0F, std::nanf("")};
    std::copy(std::begin(in), std::end(in), values.samples().begin());
    write_tiff(folder / "f.tif", 4, 1, rows_of(values), {.bits = 32, .sample_format = 3});
    const Picture p = read(folder / "f.tif");
    const auto& px = std::get<Raster16>(p.pixels);
    CHECK(px.at(1, 0, 0) == 65535);
    CHECK(px.at(2, 0, 1) == 32768);
    CHECK(px.at(3, 0, 0) == 65535);
    CHECK(px.at(3, 0, 1) == 0);
    CHECK(px.at(3, 0, 2) == 0);
    CHECK(p.notes.size() == 2);
    CHECK(std::abs(to_srgb8(p).value().at(2, 0, 0) - 188) <= 1);  // the sRGB curve at 0.5: 0.7354
}

TEST_CASE("TIFF alpha, straight and premultiplied, and channels beyond") {
    const TemporaryFolder folder;
    const std::vector<std::vector<std::uint8_t>> row{{100, 0, 255, 128}};
    write_tiff(folder / "s.tif", 1, 1, row, {.samples = 4, .alpha = 2});
    CHECK(std::get<Raster8>(read(folder / "s.tif").pixels).at(0, 0, 0) == 177);
    write_tiff(folder / "m.tif", 1, 1, row, {.samples = 4, .alpha = 1});
    CHECK(std::get<Raster8>(read(folder / "m.tif").pixels).at(0, 0, 0) == 227);  // 100 + 127
    const samples::TiffMake unknown{.samples = 4, .alpha = 0};
    write_tiff(folder / "u.tif", 1, 1, row, unknown);
    const Picture u = read(folder / "u.tif");
    CHECK(std::get<Raster8>(u.pixels).at(0, 0, 0) == 100);
    CHECK(u.notes.size() == 1);
}

TEST_CASE("TIFF kinds that are not read say so") {
    const TemporaryFolder folder;
    write_tiff(folder / "lab.tif", 1, 1, {{50, 0, 0}}, {.photometric = 8});
    const auto lab = read_picture(folder / "lab.tif");
    REQUIRE_FALSE(lab);
    CHECK(lab.error().code == "picture.unsupported");
    write_tiff(folder / "inks.tif", 1, 1, {{0, 0, 0, 0}}, {.samples = 4, .photometric = 5});
    const auto inks = read_picture(folder / "inks.tif");
    REQUIRE_FALSE(inks);
    CHECK(inks.error().code == "picture.unsupported");
    write_tiff(folder / "profiled.tif", 1, 1, {{0, 0, 0, 255}},
               {.samples = 4, .photometric = 5, .icc = samples::inks_profile()});
    const auto black = std::get<Raster8>(read(folder / "profiled.tif").pixels);
    CHECK(black.at(0, 0, 0) < 10);
    CHECK(black.at(0, 0, 2) < 10);
}
