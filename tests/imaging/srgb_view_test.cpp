#include "tedge/imaging/srgb_view.hpp"

#include <catch2/catch.hpp>

#include "sample_files.hpp"
#include "tedge/base/files.hpp"
#include "tedge/imaging/colour.hpp"
#include "tedge/imaging/write_picture.hpp"
#include "temporary_folder.hpp"

using namespace tedge;
using namespace tedge::imaging;

namespace {

Picture tagged(Raster8 pixels, std::vector<std::uint8_t> profile) {
    return {.kind = PictureKind::tiff, .pixels = std::move(pixels), .icc_profile = std::move(profile)};
}

}  // namespace

TEST_CASE("untagged pixels and sRGB profiles stay exactly as they are") {
    const Raster8 pixels = samples::noisy8(31, 17, 3);
    CHECK(to_srgb8(tagged(pixels, {})).value() == pixels);
    CHECK(to_srgb8(tagged(pixels, srgb_icc_profile())).value() == pixels);
    CHECK(to_srgb8(tagged(pixels, samples::library_srgb_profile())).value() == pixels);
    const Raster8 grey = samples::noisy8(9, 9, 1);
    const Raster8 rgb = to_srgb8(tagged(grey, {})).value();
    REQUIRE(rgb.channels() == 3);
    CHECK(rgb.at(4, 5, 2) == grey.at(4, 5));
    Raster16 deep(2, 1, 1);
    deep.at(0, 0) = 65535, deep.at(1, 0) = 0x8080;
    const Picture deep_picture{.kind = PictureKind::tiff, .pixels = deep};
    CHECK(to_srgb8(deep_picture).value().at(1, 0, 1) == 0x80);
    CHECK(to_srgb16(deep_picture).value().at(1, 0, 1) == 0x8080);
}

TEST_CASE("a profile with red and blue changed over changes them back") {
    const Raster8 pixels = samples::smooth8(40, 30, 3);
    const Raster8 shown = to_srgb8(tagged(pixels, samples::swapped_profile())).value();
    Raster8 expected = pixels;
    for (int y = 0; y < 30; ++y)
        for (int x = 0; x < 40; ++x) std::swap(expected.at(x, y, 0), expected.at(x, y, 2));
    CHECK(samples::largest_difference(shown, expected) <= 1);
}

// A colour inside both gamuts must be the same colour in Lab, computed by hand from the profile's description.
TEST_CASE("wide-gamut pixels keep their colour") {
    Raster8 pixels(1, 1, 3);
    pixels.at(0, 0, 0) = 150, pixels.at(0, 0, 1) = 120, pixels.at(0, 0, 2) = 90;
    const Raster8 shown = to_srgb8(tagged(pixels, samples::wide_gamut_profile())).value();
    // Linear light by gamma 2.2; matrix of these primaries with D65 by the usual construction (white D65 of xy 0.3127,
    // 0.3290), then XYZ (D65) to linear sRGB (IEC 61966-2-1).
    const double r = std::pow(150 / 255.0, 2.2), g = std::pow(120 / 255.0, 2.2), b = std::pow(90 / 255.0, 2.2);
    const double x = 0.57667 * r + 0.18556 * g + 0.18823 * b;
    const double y = 0.29734 * r + 0.62736 * g + 0.07529 * b;
    const double z = 0.02703 * r + 0.07069 * g + 0.99134 * b;
    const double expected[3] = {3.24045 * x - 1.53714 * y - 0.49853 * z, -0.96927 * x + 1.87601 * y + 0.04156 * z,
                                0.05564 * x - 0.20403 * y + 1.05723 * z};
    for (int c = 0; c < 3; ++c) CHECK(std::abs(shown.at(0, 0, c) - 255.0 * srgb_encoded(expected[c])) <= 1.0);
    CHECK(shown.at(0, 0, 0) > 152);  // and that is not what sits in the file
}

TEST_CASE("printing inks are converted by their own profile or refused") {
    const TemporaryFolder folder;
    Raster8 inks(16, 16, 4);  // cyan alone
    for (int y = 0; y < 16; ++y)
        for (int x = 0; x < 16; ++x) inks.at(x, y, 0) = 255;
    samples::save(folder / "with.jpg", samples::cmyk_jpeg_bytes(inks, samples::inks_profile()));
    const auto picture = read_picture(folder / "with.jpg");
    REQUIRE(picture);
    const auto shown = to_srgb8(*picture).value();
    CHECK(shown.at(8, 8, 0) < 60);
    CHECK(shown.at(8, 8, 1) > 150);
    CHECK(shown.at(8, 8, 2) > 100);
    CHECK(picture->notes.size() == 1);
    const auto probe = probe_picture(folder / "with.jpg");
    REQUIRE(probe);
    CHECK(probe->channels == 3);
    samples::save(folder / "without.jpg", samples::cmyk_jpeg_bytes(inks, {}));
    const auto refused = read_picture(folder / "without.jpg");
    REQUIRE_FALSE(refused);
    CHECK(refused.error().code == "picture.unsupported");
}

TEST_CASE("a profile that does not fit is left out and said so") {
    const TemporaryFolder folder;
    samples::write_tiff(folder / "a.tif", 4, 4, samples::rows_of(samples::smooth8(4, 4, 1)),
                        {.samples = 1, .photometric = 1, .icc = samples::wide_gamut_profile()});
    const auto picture = read_picture(folder / "a.tif");
    REQUIRE(picture);
    CHECK(picture->icc_profile.empty());
    CHECK(picture->notes.size() == 1);
    const auto broken = to_srgb8(tagged(samples::smooth8(4, 4, 3), {1, 2, 3}));
    REQUIRE_FALSE(broken);
    CHECK(broken.error().code == "picture.colour-profile");
}
