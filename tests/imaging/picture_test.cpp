#include "tedge/imaging/picture.hpp"

#include <catch2/catch.hpp>

#include "sample_files.hpp"
#include "tedge/base/files.hpp"
#include "tedge/imaging/srgb_view.hpp"
#include "tedge/imaging/write_picture.hpp"
#include "temporary_folder.hpp"

using namespace tedge;
using namespace tedge::imaging;

namespace {

std::filesystem::path saved(const TemporaryFolder& folder, const std::string& bytes, const char* name = "picture.bin") {
    samples::save(folder / name, bytes);
    return folder / name;
}

Picture read(const std::filesystem::path& file) {
    auto picture = read_picture(file);
    INFO((picture ? std::string() : picture.error().message));
    REQUIRE(picture);
    return std::move(*picture);
}

// What a probe says must be what reading gives.
void check_probe_agrees(const std::filesystem::path& file, const Picture& picture) {
    const auto probe = probe_picture(file);
    REQUIRE(probe);
    CHECK(probe->kind == picture.kind);
    CHECK(probe->size == picture.size());
    CHECK(probe->channels == picture.channels());
    CHECK(probe->bits == picture.bits());
    CHECK(probe->has_icc_profile == !picture.icc_profile.empty());
    CHECK(probe->metadata.orientation_in_file == picture.metadata.orientation_in_file);
}

}  // namespace

TEST_CASE("JPEG: grey and colour, baseline and progressive") {
    const TemporaryFolder folder;
    const Raster8 colour = samples::smooth8(61, 47, 3), grey = samples::smooth8(40, 33, 1);
    const Picture a = read(saved(folder, encode_picture(colour, PictureFormat::jpeg, {.jpeg_quality = 100}).value()));
    CHECK(a.kind == PictureKind::jpeg);
    CHECK(samples::largest_difference(std::get<Raster8>(a.pixels), colour) <= 3);
    check_probe_agrees(folder / "picture.bin", a);
    const Picture b = read(saved(folder, encode_picture(grey, PictureFormat::jpeg, {.jpeg_quality = 100}).value()));
    CHECK(samples::largest_difference(std::get<Raster8>(b.pixels), grey) <= 2);
    check_probe_agrees(folder / "picture.bin", b);
    const Picture c = read(saved(folder, samples::progressive_jpeg_bytes(colour)));
    CHECK(samples::largest_difference(std::get<Raster8>(c.pixels), colour) <= 8);
}

// ISO/IEC 10918-1, B.2.2: the frame header is a marker FFC0 to FFCF, two bytes of length, the bits of a sample. Whole
// files of another sort than is read are not told to be damaged: nobody shall copy them again for nothing.
TEST_CASE("JPEG of 12 bits and lossless JPEG say that they are not read") {
    const TemporaryFolder folder;
    const std::string plain = encode_picture(samples::smooth8(40, 33, 1), PictureFormat::jpeg).value();
    const std::size_t frame = plain.find("\xFF\xC0");
    REQUIRE(frame != std::string::npos);
    std::string deep = plain, lossless = plain, absurd = plain;
    deep[frame + 4] = 12;
    lossless[frame + 1] = '\xC3';
    absurd[frame + 4] = 77;
    for (const std::string& bytes : {deep, lossless}) {
        const auto file = saved(folder, bytes);
        CHECK(read_picture(file).error().code == "picture.unsupported");
        CHECK(probe_picture(file).error().code == "picture.unsupported");
    }
    CHECK(read_picture(saved(folder, absurd)).error().code == "picture.damaged");
}

TEST_CASE("PNG: palette, low bits, 16 bits, alpha, interlacing") {
    const TemporaryFolder folder;
    SECTION("palette of 2 bits with a transparent entry") {
        const samples::PngMake make{.colour_type = 3,
                                    .bits = 2,
                                    .palette = {255, 0, 0, 0, 255, 0, 0, 0, 255, 9, 9, 9},
                                    .palette_alpha = {255, 255, 255, 0}};
        const Picture p = read(saved(folder, samples::png_from_rows(4, 1, {{0b00'01'10'11}}, make)));
        const auto& px = std::get<Raster8>(p.pixels);
        REQUIRE(px.channels() == 3);
        CHECK(px.at(0, 0, 0) == 255);
        CHECK(px.at(1, 0, 1) == 255);
        CHECK(px.at(2, 0, 2) == 255);
        CHECK(px.at(3, 0, 0) == 255);  // the transparent one lies on white
        CHECK(p.notes.size() == 1);
        check_probe_agrees(folder / "picture.bin", p);
    }
    SECTION("one bit grey") {
        const Picture p =
            read(saved(folder, samples::png_from_rows(8, 1, {{0b10100001}}, {.colour_type = 0, .bits = 1})));
        CHECK(std::get<Raster8>(p.pixels).samples()[0] == 255);
        CHECK(std::get<Raster8>(p.pixels).samples()[1] == 0);
        CHECK(std::get<Raster8>(p.pixels).samples()[7] == 255);
        check_probe_agrees(folder / "picture.bin", p);
    }
    SECTION("half transparent RGB") {
        const Picture p = read(saved(folder, samples::png_from_rows(1, 1, {{100, 0, 255, 128}}, {.colour_type = 6})));
        // 100 · 128/255 + 255 · 127/255 = 177.2
        CHECK(std::get<Raster8>(p.pixels).at(0, 0, 0) == 177);
        CHECK(std::get<Raster8>(p.pixels).at(0, 0, 1) == 127);
        CHECK(std::get<Raster8>(p.pixels).at(0, 0, 2) == 255);
    }
    SECTION("16 bits, interlaced, big-endian in the file") {
        const samples::PngMake make{.colour_type = 0, .bits = 16, .interlaced = true};
        const Picture p =
            read(saved(folder, samples::png_from_rows(2, 2, {{0x12, 0x34, 0, 1}, {0xFF, 0xFF, 0, 0}}, make)));
        const auto& px = std::get<Raster16>(p.pixels);
        CHECK(px.at(0, 0) == 0x1234);
        CHECK(px.at(1, 0) == 1);
        CHECK(px.at(0, 1) == 65535);
        check_probe_agrees(folder / "picture.bin", p);
    }
    SECTION("a gamma of its own becomes a profile, sRGB's own does not") {
        const Picture linear =
            read(saved(folder, samples::png_from_rows(1, 1, {{128}}, {.colour_type = 0, .gamma = 1.0})));
        // Linear 128/255 is 0.502, on the sRGB curve 0.7354 · 255 = 187.5 (IEC 61966-2-1)
        CHECK(std::abs(to_srgb8(linear).value().at(0, 0) - 188) <= 1);
        const Picture plain =
            read(saved(folder, samples::png_from_rows(1, 1, {{128}}, {.colour_type = 0, .gamma = 0.45455})));
        CHECK(plain.icc_profile.empty());
    }
}

TEST_CASE("WebP and HEIC") {
    const TemporaryFolder folder;
    const Raster8 rgb = samples::smooth8(64, 48, 3);
    const Picture webp = read(saved(folder, samples::webp_bytes(rgb)));
    CHECK(webp.kind == PictureKind::webp);
    CHECK(std::get<Raster8>(webp.pixels) == rgb);
    check_probe_agrees(folder / "picture.bin", webp);

    Raster8 rgba(2, 1, 4);
    const std::uint8_t values[8] = {10, 20, 30, 255, 200, 100, 50, 0};
    std::copy(std::begin(values), std::end(values), rgba.samples().begin());
    const Picture clear = read(saved(folder, samples::webp_bytes(rgba)));
    CHECK(std::get<Raster8>(clear.pixels).at(0, 0, 2) == 30);
    CHECK(std::get<Raster8>(clear.pixels).at(1, 0, 0) == 255);

    const Picture heic = read(saved(folder, samples::heic_bytes(rgb, samples::wide_gamut_profile())));
    CHECK(heic.kind == PictureKind::heif);
    CHECK(samples::largest_difference(std::get<Raster8>(heic.pixels), rgb) <= 12);
    CHECK(heic.icc_profile == samples::wide_gamut_profile());
    check_probe_agrees(folder / "picture.bin", heic);
}

TEST_CASE("a telephone's metadata are read, and a file without any is as good") {
    const TemporaryFolder folder;
    const std::string bare =
        encode_picture(samples::smooth8(8, 6, 3), PictureFormat::jpeg, {.pixels_per_inch = 300}).value();
    const Picture plain = read(saved(folder, bare));
    CHECK(plain.metadata.camera_make.empty());
    CHECK(plain.metadata.captured_at.empty());
    CHECK(plain.metadata.pixels_per_inch == 300.0);
    CHECK_FALSE(plain.metadata.has_location);
    const Picture turned = read(saved(folder, samples::with_exif(bare, samples::exif_with_orientation(6))));
    CHECK(turned.metadata.orientation_in_file == 6);
    CHECK(turned.size() == SizePx{6, 8});
    check_probe_agrees(folder / "picture.bin", turned);
    // A broken Exif block is no reason to refuse the pixels.
    CHECK(read(saved(folder, samples::with_exif(bare, {'I', 'I', 42, 0, 255, 255, 255, 127}))).size() == SizePx{8, 6});
}

TEST_CASE("the content counts, not the name") {
    const TemporaryFolder folder;
    const auto png = encode_picture(samples::smooth8(5, 4, 3), PictureFormat::png).value();
    CHECK(read(saved(folder, png, "photo.jpg")).kind == PictureKind::png);
    const auto text = read_picture(saved(folder, "Lot 41: a river landscape, relined.\n", "lot.jpg"));
    REQUIRE_FALSE(text);
    CHECK(text.error().code == "picture.not-a-picture");
    CHECK(text.error().message == "lot.jpg is not a photograph: it holds text.");
    CHECK_FALSE(text.error().next.empty());
}

TEST_CASE("reading stops when asked") {
    const TemporaryFolder folder;
    const auto file = saved(folder, encode_picture(samples::noisy8(200, 300, 3), PictureFormat::png).value());
    std::stop_source stop;
    int reports = 0;
    const Progress progress(stop.get_token(), [&](double fraction, std::string_view) {
        ++reports;
        if (fraction > 0.3) stop.request_stop();
    });
    const auto picture = read_picture(file, {}, progress);
    REQUIRE_FALSE(picture);
    CHECK(picture.error().code == "cancelled");
    CHECK(reports >= 2);
}
