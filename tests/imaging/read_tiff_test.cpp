#include <array>
#include <catch2/catch.hpp>
#include <cmath>

#include "sample_files.hpp"
#include "tedge/base/files.hpp"
#include "tedge/imaging/picture.hpp"
#include "tedge/imaging/srgb_view.hpp"
#include "temporary_folder.hpp"

using namespace tedge;
using namespace tedge::imaging;
using samples::rows_of;
using samples::TiffMake;
using samples::write_tiff;

namespace {

Picture read_tiff(const std::filesystem::path& file) {
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
                CHECK(std::get<Raster16>(read_tiff(folder / "a.tif").pixels) == rgb);
            }
    write_tiff(folder / "big.tif", 75, 41, rows_of(rgb), {.bits = 16, .big = true});
    CHECK(std::get<Raster16>(read_tiff(folder / "big.tif").pixels) == rgb);
    const Raster16 grey = samples::exact16(30, 20, 1);
    write_tiff(folder / "grey.tif", 30, 20, rows_of(grey), {.bits = 16, .samples = 1, .photometric = 1});
    CHECK(std::get<Raster16>(read_tiff(folder / "grey.tif").pixels) == grey);
    const auto probe = probe_picture(folder / "grey.tif");
    REQUIRE(probe);
    CHECK(probe->bits == 16);
    CHECK(probe->channels == 1);
}

TEST_CASE("Either byte order, with and without differences before compression, comes through exactly") {
    const TemporaryFolder folder;
    const Raster16 deep = samples::exact16(37, 21, 3);
    const Raster8 flat = samples::smooth8(37, 21, 3);
    for (const bool big_endian : {false, true})
        for (const auto& [compression, predictor] : {std::pair{1, 1}, {5, 1}, {5, 2}, {8, 2}}) {
            INFO("big-endian " << big_endian << " compression " << compression << " predictor " << predictor);
            TiffMake make{.bits = 16, .compression = compression, .big_endian = big_endian, .predictor = predictor};
            write_tiff(folder / "deep.tif", 37, 21, rows_of(deep), make);
            CHECK(std::get<Raster16>(read_tiff(folder / "deep.tif").pixels) == deep);
            make.bits = 8;
            make.tile = 16;
            write_tiff(folder / "flat.tif", 37, 21, rows_of(flat), make);
            CHECK(std::get<Raster8>(read_tiff(folder / "flat.tif").pixels) == flat);
        }
}

TEST_CASE("JPEG inside TIFF, in strips and tiles, with colours as YCbCr or as they are") {
    const TemporaryFolder folder;
    const Raster8 rgb = samples::smooth8(64, 64, 3);
    for (const int photometric : {2, 6})  // RGB; YCbCr, which the JPEG library turns back
        for (const int tile : {0, 32}) {
            INFO("photometric " << photometric << " tile " << tile);
            write_tiff(folder / "j.tif", 64, 64, rows_of(rgb),
                       {.photometric = photometric, .tile = tile, .compression = 7});
            CHECK(samples::largest_difference(std::get<Raster8>(read_tiff(folder / "j.tif").pixels), rgb) <= 10);
        }
    const Raster8 grey = samples::smooth8(64, 64, 1);
    write_tiff(folder / "g.tif", 64, 64, rows_of(grey), {.samples = 1, .photometric = 1, .compression = 7});
    CHECK(samples::largest_difference(std::get<Raster8>(read_tiff(folder / "g.tif").pixels), grey) <= 6);
}

TEST_CASE("Floating point in tiles, planes and differences, of either byte order, is read as the plain one is") {
    const TemporaryFolder folder;
    RasterF values(20, 9, 3);
    for (std::size_t i = 0; i < values.samples().size(); ++i)
        values.samples()[i] = static_cast<float>(i) / static_cast<float>(values.samples().size());
    write_tiff(folder / "plain.tif", 20, 9, rows_of(values), {.bits = 32, .sample_format = 3});
    const auto plain = std::get<Raster16>(read_tiff(folder / "plain.tif").pixels);
    CHECK(plain.at(0, 0, 0) == 0);
    CHECK(plain.at(19, 8, 2) == 65414);  // 539 / 540
    for (const TiffMake& make : {TiffMake{.bits = 32, .tile = 16, .sample_format = 3},
                                 TiffMake{.bits = 32, .planes_apart = true, .sample_format = 3},
                                 TiffMake{.bits = 32, .compression = 8, .sample_format = 3, .predictor = 3},
                                 TiffMake{.bits = 32, .sample_format = 3, .big_endian = true}}) {
        write_tiff(folder / "other.tif", 20, 9, rows_of(values), make);
        CHECK(std::get<Raster16>(read_tiff(folder / "other.tif").pixels) == plain);
    }
}

TEST_CASE("The profile of a TIFF comes with it, and of several pages the first is read and the others are told of") {
    const TemporaryFolder folder;
    const Raster16 rgb = samples::exact16(12, 8, 3);
    const auto profile = samples::wide_gamut_profile();
    write_tiff(folder / "p.tif", 12, 8, rows_of(rgb), {.bits = 16, .icc = profile, .pages = 3});
    const Picture p = read_tiff(folder / "p.tif");
    CHECK(p.icc_profile == profile);
    CHECK(std::get<Raster16>(p.pixels) == rgb);
    REQUIRE(p.notes.size() == 1);
    CHECK(p.notes[0] == "It holds several pages; the first was read.");
}

TEST_CASE("TIFF of 8 bits and fewer") {
    const TemporaryFolder folder;
    const Raster8 grey = samples::smooth8(20, 10, 1);
    write_tiff(folder / "white.tif", 20, 10, rows_of(grey), {.samples = 1, .photometric = 0});
    CHECK(std::get<Raster8>(read_tiff(folder / "white.tif").pixels).at(3, 4) == 255 - grey.at(3, 4));
    write_tiff(folder / "bits.tif", 10, 1, {{0b10110000, 0b01000000}}, {.bits = 1, .samples = 1, .photometric = 1});
    const auto bits = std::get<Raster8>(read_tiff(folder / "bits.tif").pixels);
    CHECK(bits.at(0, 0) == 255);
    CHECK(bits.at(1, 0) == 0);
    CHECK(bits.at(3, 0) == 255);
    CHECK(bits.at(9, 0) == 255);
    write_tiff(folder / "four.tif", 3, 1, {{0x0F, 0x70}}, {.bits = 4, .samples = 1, .photometric = 1});
    CHECK(std::get<Raster8>(read_tiff(folder / "four.tif").pixels).at(1, 0) == 255);
    CHECK(std::get<Raster8>(read_tiff(folder / "four.tif").pixels).at(2, 0) == 7 * 17);
}

TEST_CASE("TIFF palettes of 16 bits, and of 8 as old writers left them") {
    const TemporaryFolder folder;
    std::vector<std::uint16_t> map(3 * 16, 0);
    map[5] = 65535, map[16 + 5] = 0x8080, map[32 + 5] = 0;
    write_tiff(folder / "p.tif", 2, 1, {{0x5A}}, {.bits = 4, .samples = 1, .photometric = 3, .colour_map = map});
    const auto p = std::get<Raster8>(read_tiff(folder / "p.tif").pixels);
    CHECK(p.at(0, 0, 0) == 255);
    CHECK(p.at(0, 0, 1) == 128);
    CHECK(p.at(0, 0, 2) == 0);
    map[5] = 200, map[16 + 5] = 100;
    write_tiff(folder / "old.tif", 2, 1, {{0x5A}}, {.bits = 4, .samples = 1, .photometric = 3, .colour_map = map});
    CHECK(std::get<Raster8>(read_tiff(folder / "old.tif").pixels).at(0, 0, 0) == 200);
}

namespace {

std::string all_notes(const Picture& picture) {
    std::string out;
    for (const std::string& each : picture.notes) out += each + "\n";
    return out;
}

}  // namespace

TEST_CASE("Floating-point values that run to 255 are those of 8 bits, and a few bright lights are not") {
    const TemporaryFolder folder;
    const Raster8 eight = samples::smooth8(40, 30, 3);
    RasterF values(40, 30, 3);
    for (std::size_t i = 0; i < values.samples().size(); ++i)
        values.samples()[i] = static_cast<float>(eight.samples()[i]);
    write_tiff(folder / "f.tif", 40, 30, rows_of(values), {.bits = 32, .sample_format = 3});
    const Picture picture = read_tiff(folder / "f.tif");
    CHECK(all_notes(picture).find("run to 255: they were read as those of 8 bits, in sRGB") != std::string::npos);
    CHECK(all_notes(picture).find("cut off") == std::string::npos);
    const auto& deep = std::get<Raster16>(picture.pixels);
    for (std::size_t i = 0; i < deep.samples().size(); ++i) REQUIRE(deep.samples()[i] == 257 * eight.samples()[i]);
    const auto srgb = to_srgb8(picture);
    REQUIRE(srgb);
    CHECK(*srgb == eight);  // as the 8-bit file would have been read

    for (float& v : values.samples()) v *= 257.0F;
    write_tiff(folder / "deep.tif", 40, 30, rows_of(values), {.bits = 32, .sample_format = 3});
    CHECK(std::get<Raster16>(read_tiff(folder / "deep.tif").pixels) == deep);

    // Linear light with highlights: most of it below white.
    for (std::size_t i = 0; i < values.samples().size(); ++i) values.samples()[i] = i % 50 == 0 ? 40.0F : 0.25F;
    write_tiff(folder / "lights.tif", 40, 30, rows_of(values), {.bits = 32, .sample_format = 3});
    const Picture lights = read_tiff(folder / "lights.tif");
    CHECK(all_notes(lights).find("cut off") != std::string::npos);
    CHECK(std::get<Raster16>(lights.pixels).at(1, 0, 1) == 16384);
}

TEST_CASE("Half-precision floats, whole numbers of 32 bits and CIELAB are read") {
    const TemporaryFolder folder;
    // IEEE 754 binary16: 1, 0.5, the smallest of all (2^-24), not a number, -2, 65504 / 65504.
    Raster16 halves(6, 1, 1);
    for (int x = 0; x < 6; ++x)
        halves.at(x, 0) =
            std::array<std::uint16_t, 6>{0x3C00, 0x3800, 0x0001, 0x7E00, 0xC000, 0x3BFF}[static_cast<std::size_t>(x)];
    write_tiff(folder / "half.tif", 6, 1, rows_of(halves),
               {.bits = 16, .samples = 1, .photometric = 1, .sample_format = 3});
    const auto half = std::get<Raster16>(read_tiff(folder / "half.tif").pixels);
    CHECK(half.at(0, 0) == 65535);
    CHECK(half.at(1, 0) == 32768);
    CHECK(half.at(2, 0) == 0);
    CHECK(half.at(3, 0) == 0);
    CHECK(half.at(4, 0) == 0);
    CHECK(half.at(5, 0) == std::lround(65535 * (2047.0 / 2048.0)));  // the last below 1

    Raster<std::uint32_t> wide(3, 1, 3);
    for (std::size_t i = 0; i < 9; ++i) wide.samples()[i] = 0x12340000U * static_cast<std::uint32_t>(i) + 77U;
    write_tiff(folder / "wide.tif", 3, 1, rows_of(wide), {.bits = 32});
    const Picture whole = read_tiff(folder / "wide.tif");
    CHECK(std::get<Raster16>(whole.pixels).at(1, 0, 1) == 0x1234 * 4);
    CHECK(all_notes(whole).find("upper 16") != std::string::npos);

    // The red, green, blue and white of sRGB in CIELAB D50, to 8 bits (L* 54.29, 87.82, 29.57, 100; from Lindbloom's
    // calculator, from memory); a* and b* with a sign, in ICC Lab about 128.
    const std::array<std::array<double, 3>, 4> lab{
        {{54.29, 80.81, 69.89}, {87.82, -79.27, 80.99}, {29.57, 68.29, -112.03}, {100.0, 0.0, 0.0}}};
    const std::array<std::array<int, 3>, 4> srgb{{{255, 0, 0}, {0, 255, 0}, {0, 0, 255}, {255, 255, 255}}};
    for (const int photometric : {8, 9})
        for (const int bits : {8, 16}) {
            INFO("photometric " << photometric << " bits " << bits);
            Raster16 deep(4, 1, 3);
            Raster8 flat(4, 1, 3);
            for (int x = 0; x < 4; ++x)
                for (int c = 0; c < 3; ++c) {
                    const double v = lab[static_cast<std::size_t>(x)][static_cast<std::size_t>(c)];
                    const double white = bits == 8 ? 255.0 : photometric == 9 ? 65280.0 : 65535.0;
                    const double step = bits == 8 ? 1.0 : 256.0;
                    const long coded = c == 0
                                           ? std::lround(v * white / 100.0)
                                           : std::lround(v * step) + (photometric == 9 ? std::lround(128 * step) : 0);
                    deep.at(x, 0, c) = static_cast<std::uint16_t>(coded);
                    flat.at(x, 0, c) = static_cast<std::uint8_t>(coded);
                }
            write_tiff(folder / "lab.tif", 4, 1, bits == 8 ? rows_of(flat) : rows_of(deep),
                       {.bits = bits, .photometric = photometric});
            const auto read = std::get<Raster16>(read_tiff(folder / "lab.tif").pixels);
            for (int x = 0; x < 4; ++x)
                for (int c = 0; c < 3; ++c)
                    CHECK(read.at(x, 0, c) / 257.0 ==
                          Approx(srgb[static_cast<std::size_t>(x)][static_cast<std::size_t>(c)])
                              .margin(bits == 8 ? 14 : 3));
        }
}

TEST_CASE("floating-point TIFF is linear light") {
    const TemporaryFolder folder;
    RasterF values(4, 1, 3);
    const float in[12] = {0, 0, 0, 1, 1, 1, 0.5F, 0.5F, 0.5F, 2.0F, -1.0F, std::nanf("")};
    std::copy(std::begin(in), std::end(in), values.samples().begin());
    write_tiff(folder / "f.tif", 4, 1, rows_of(values), {.bits = 32, .sample_format = 3});
    const Picture p = read_tiff(folder / "f.tif");
    const auto& px = std::get<Raster16>(p.pixels);
    CHECK(px.at(1, 0, 0) == 65535);
    CHECK(px.at(2, 0, 1) == 32768);
    CHECK(px.at(3, 0, 0) == 65535);
    CHECK(px.at(3, 0, 1) == 0);
    CHECK(px.at(3, 0, 2) == 0);
    CHECK(p.notes.size() == 3);                                   // above 1, below 0 or no number, linear light
    CHECK(std::abs(to_srgb8(p).value().at(2, 0, 0) - 188) <= 1);  // the sRGB curve at 0.5: 0.7354
}

TEST_CASE("TIFF alpha, straight and premultiplied, and channels beyond") {
    const TemporaryFolder folder;
    const std::vector<std::vector<std::uint8_t>> row{{100, 0, 255, 128}};
    write_tiff(folder / "s.tif", 1, 1, row, {.samples = 4, .alpha = 2});
    CHECK(std::get<Raster8>(read_tiff(folder / "s.tif").pixels).at(0, 0, 0) == 177);
    write_tiff(folder / "m.tif", 1, 1, row, {.samples = 4, .alpha = 1});
    CHECK(std::get<Raster8>(read_tiff(folder / "m.tif").pixels).at(0, 0, 0) == 227);  // 100 + 127
    const samples::TiffMake unknown{.samples = 4, .alpha = 0};
    write_tiff(folder / "u.tif", 1, 1, row, unknown);
    const Picture u = read_tiff(folder / "u.tif");
    CHECK(std::get<Raster8>(u.pixels).at(0, 0, 0) == 100);
    CHECK(u.notes.size() == 1);
}

TEST_CASE("TIFF kinds that are not read say so") {
    const TemporaryFolder folder;
    const auto lab_of_32_bits = std::vector<std::vector<std::uint8_t>>{std::vector<std::uint8_t>(12, 0)};
    write_tiff(folder / "lab.tif", 1, 1, lab_of_32_bits, {.bits = 32, .photometric = 8});
    const auto lab = read_picture(folder / "lab.tif");
    REQUIRE_FALSE(lab);
    CHECK(lab.error().code == "picture.unsupported");
    CHECK(lab.error().message.find("CIELAB") != std::string::npos);
    // 64-bit and signed numbers: nobody's photographs, and told as such.
    const std::vector<std::vector<std::uint8_t>> zeros{std::vector<std::uint8_t>(24, 0)};
    for (const TiffMake& odd : {TiffMake{.bits = 64, .sample_format = 3}, TiffMake{.bits = 16, .sample_format = 2}}) {
        write_tiff(folder / "odd.tif", 1, 1, zeros, odd);
        const auto refused = read_picture(folder / "odd.tif");
        REQUIRE_FALSE(refused);
        CHECK(refused.error().code == "picture.unsupported");
        CHECK(refused.error().message.find(std::to_string(odd.bits) + "-bit samples") != std::string::npos);
    }
    // A compression that no library here knows: tag 259, SHORT, count 1, its value changed to 60000.
    write_tiff(folder / "plain.tif", 1, 1, {{1, 2, 3}}, {});
    std::string bytes = tedge::read_file(folder / "plain.tif").value();
    const std::string tag("\x03\x01\x03\x00\x01\x00\x00\x00", 8);
    const std::size_t at = bytes.find(tag);
    REQUIRE(at != std::string::npos);
    bytes.replace(at + 8, 2, "\x60\xea");
    samples::save(folder / "plain.tif", bytes);
    const auto packed = read_picture(folder / "plain.tif");
    REQUIRE_FALSE(packed);
    CHECK(packed.error().code == "picture.unsupported");
    CHECK(packed.error().message.find("compressed in a way") != std::string::npos);
    write_tiff(folder / "inks.tif", 1, 1, {{0, 0, 0, 0}}, {.samples = 4, .photometric = 5});
    const auto inks = read_picture(folder / "inks.tif");
    REQUIRE_FALSE(inks);
    CHECK(inks.error().code == "picture.unsupported");
    write_tiff(folder / "profiled.tif", 1, 1, {{0, 0, 0, 255}},
               {.samples = 4, .photometric = 5, .icc = samples::inks_profile()});
    const auto black = std::get<Raster8>(read_tiff(folder / "profiled.tif").pixels);
    CHECK(black.at(0, 0, 0) < 10);
    CHECK(black.at(0, 0, 2) < 10);
}
