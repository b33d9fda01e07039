#include "tedge/imaging/write_picture.hpp"

#include <catch2/catch.hpp>

#include "sample_files.hpp"
#include "tedge/base/digest.hpp"
#include "tedge/base/files.hpp"
#include "tedge/imaging/srgb_view.hpp"
#include "temporary_folder.hpp"

using namespace tedge;
using namespace tedge::imaging;

TEST_CASE("8 and 16 bits, grey and colour, come back exactly from PNG and TIFF") {
    const TemporaryFolder folder;
    for (const PictureFormat format : {PictureFormat::png, PictureFormat::tiff})
        for (const int channels : {1, 3})
            for (const bool deflate : {false, true}) {
                const Raster8 shallow = samples::noisy8(67, 45, channels);
                const Raster16 deep = samples::exact16(67, 45, channels);
                REQUIRE(
                    write_picture(folder / "8", shallow, format, {.tiff_deflate = deflate, .pixels_per_inch = 300.0}));
                REQUIRE(write_picture(folder / "16", deep, format, {.tiff_deflate = deflate}));
                const auto back = read_picture(folder / "8");
                REQUIRE(back);
                CHECK(std::get<Raster8>(back->pixels) == shallow);
                CHECK(back->metadata.pixels_per_inch.value() == Approx(300.0).epsilon(1e-3));
                CHECK(std::get<Raster16>(read_picture(folder / "16").value().pixels) == deep);
                CHECK(back->kind == (format == PictureFormat::png ? PictureKind::png : PictureKind::tiff));
            }
}

TEST_CASE("the same picture gives the same bytes, marked as sRGB") {
    const Raster8 pixels = samples::smooth8(40, 30, 3);
    for (const PictureFormat format : {PictureFormat::jpeg, PictureFormat::png, PictureFormat::tiff})
        CHECK(encode_picture(pixels, format).value() == encode_picture(pixels, format).value());
    const TemporaryFolder folder;
    for (const PictureFormat format : {PictureFormat::jpeg, PictureFormat::tiff}) {
        REQUIRE(write_picture(folder / "p", pixels, format));
        CHECK(read_picture(folder / "p").value().icc_profile == srgb_icc_profile());
    }
    // The profile carries a fixed date (ICC.1:2022, bytes 24 to 35): 2026-01-01.
    const auto& profile = srgb_icc_profile();
    CHECK(profile[24] * 256 + profile[25] == 2026);
    CHECK(profile[8] == 2);  // version 2
}

TEST_CASE("a profile travels with its picture") {
    const TemporaryFolder folder;
    const Picture picture{
        .kind = PictureKind::tiff, .pixels = samples::exact16(12, 9, 3), .icc_profile = samples::wide_gamut_profile()};
    for (const PictureFormat format : {PictureFormat::jpeg, PictureFormat::png, PictureFormat::tiff}) {
        REQUIRE(write_picture(folder / "p", picture, format));
        CHECK(read_picture(folder / "p").value().icc_profile == picture.icc_profile);
    }
}

TEST_CASE("a description is written and read again, beside the pixels") {
    const TemporaryFolder folder;
    const Raster8 pixels = samples::smooth8(40, 30, 3);
    for (const PictureFormat format : {PictureFormat::jpeg, PictureFormat::png, PictureFormat::tiff}) {
        REQUIRE(write_picture(folder / "p", pixels, format, {.description = "Computed, not taken."}));
        CHECK(probe_picture(folder / "p").value().metadata.description == "Computed, not taken.");
        REQUIRE(write_picture(folder / "q", pixels, format));
        CHECK(probe_picture(folder / "q").value().metadata.description.empty());
    }
}

TEST_CASE("what cannot be written is said") {
    const TemporaryFolder folder;
    CHECK(encode_picture(Raster8(), PictureFormat::png).error().code == "picture.unwritable");
    CHECK(encode_picture(Raster8(65501, 1, 1), PictureFormat::jpeg).error().code == "picture.unwritable");
    CHECK(encode_picture(Raster8(2, 2, 3), PictureFormat::jpeg, {.jpeg_quality = 0}).error().code ==
          "picture.unwritable");
    CHECK(encode_picture(Raster8(2, 2, 2), PictureFormat::tiff).error().code == "picture.unwritable");
    CHECK_FALSE(write_picture(folder / "no" / "where.png", Raster8(2, 2, 3), PictureFormat::png));
    CHECK(format_for("map.PNG").value() == PictureFormat::png);
    CHECK(format_for("a.b/c.tif").value() == PictureFormat::tiff);
    CHECK(format_for("picture").error().code == "picture.unknown-ending");
}
