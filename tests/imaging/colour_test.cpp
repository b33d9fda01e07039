#include "tedge/imaging/colour.hpp"

#include <lcms2.h>

#include <catch2/catch.hpp>
#include <cmath>

#include "tedge/base/files.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/base/table.hpp"

using namespace tedge;
using namespace tedge::imaging;

namespace {

Lab lab_at(const Table& table, std::size_t row, const std::string& suffix) {
    return {parse_number(table.cell(row, "L" + suffix)).value(), parse_number(table.cell(row, "a" + suffix)).value(),
            parse_number(table.cell(row, "b" + suffix)).value()};
}

}  // namespace

// Sharma, Wu, Dalal (2005), table 1: 34 pairs, four decimals.
TEST_CASE("CIEDE2000 agrees with the 34 published pairs") {
    const auto text = read_file(TEDGE_SOURCE_DIR "/tests/reference/ciede2000_sharma.csv");
    REQUIRE(text);
    const auto table = Table::parse(*text);
    REQUIRE(table);
    REQUIRE(table->row_count() == 34);
    for (std::size_t row = 0; row < table->row_count(); ++row) {
        const Lab first = lab_at(*table, row, "1"), second = lab_at(*table, row, "2");
        const double published = parse_number(table->cell(row, "dE00")).value();
        INFO("pair " << table->cell(row, "pair"));
        CHECK(std::abs(delta_e00(first, second) - published) <= 5e-5);
        CHECK(delta_e00(first, second) == Approx(delta_e00(second, first)).epsilon(1e-12));
    }
}

TEST_CASE("the lightness weight of one leaves lightness differences as they are") {
    const Lab dark{20.0, 0.0, 0.0}, darker{16.0, 0.0, 0.0};
    CHECK(delta_e00(dark, darker, LightnessWeight::one) == Approx(4.0).epsilon(1e-12));
    // S_L at mean L* 18: 1 + 0.015 · 32² / sqrt(20 + 32²)
    CHECK(delta_e00(dark, darker) == Approx(4.0 / (1.0 + 0.015 * 1024.0 / std::sqrt(1044.0))).epsilon(1e-12));
    CHECK(delta_e00({0, 0, 0}, {100, 0, 0}) == Approx(100.0).epsilon(1e-12));
}

// The profile's colorants as the ICC writes them for sRGB: sRGB profile of the ICC (sRGB2014), 16-bit fixed point.
TEST_CASE("sRGB to XYZ D50 has the published colorants") {
    const Matrix3& m = xyz_d50_from_linear_srgb();
    const double published[3][3] = {{0.4361, 0.3851, 0.1431}, {0.2225, 0.7169, 0.0606}, {0.0139, 0.0971, 0.7142}};
    for (std::size_t i = 0; i < 3; ++i)
        for (std::size_t j = 0; j < 3; ++j) CHECK(std::abs(m[i][j] - published[i][j]) < 2e-4);
    const Xyz white = xyz_from_linear_srgb({1, 1, 1});
    CHECK(std::abs(white.x - d50_white.x) < 1e-12);
    CHECK(std::abs(white.y - d50_white.y) < 1e-12);
    CHECK(std::abs(white.z - d50_white.z) < 1e-12);
}

// Against an independent library: Little CMS converting its own sRGB profile to its own Lab D50.
TEST_CASE("sRGB to Lab agrees with Little CMS") {
    cmsHPROFILE srgb = cmsCreate_sRGBProfile();
    cmsHPROFILE lab_profile = cmsCreateLab4Profile(nullptr);
    cmsHTRANSFORM transform = cmsCreateTransform(srgb, TYPE_RGB_DBL, lab_profile, TYPE_Lab_DBL,
                                                 INTENT_RELATIVE_COLORIMETRIC, cmsFLAGS_NOOPTIMIZE | cmsFLAGS_NOCACHE);
    REQUIRE(transform != nullptr);
    double worst = 0.0;
    for (int r = 0; r <= 255; r += 17)
        for (int g = 0; g <= 255; g += 17)
            for (int b = 0; b <= 255; b += 17) {
                const double in[3] = {r / 255.0, g / 255.0, b / 255.0};
                cmsCIELab theirs{};
                cmsDoTransform(transform, in, &theirs, 1);
                const Lab ours = lab_from_srgb({in[0], in[1], in[2]});
                worst = std::max(worst, delta_e00(ours, {theirs.L, theirs.a, theirs.b}));
            }
    // Their profile holds 16-bit fixed-point colorants and a white of four decimals.
    CHECK(worst < 0.02);
    cmsDeleteTransform(transform);
    cmsCloseProfile(lab_profile);
    cmsCloseProfile(srgb);
}

TEST_CASE("every conversion comes back") {
    for (int r = 0; r <= 255; r += 51)
        for (int g = 0; g <= 255; g += 51)
            for (int b = 0; b <= 255; b += 51) {
                const auto back = srgb8_from_lab(lab_from_srgb8(
                    static_cast<std::uint8_t>(r), static_cast<std::uint8_t>(g), static_cast<std::uint8_t>(b)));
                CHECK(back == std::array<std::uint8_t, 3>{static_cast<std::uint8_t>(r), static_cast<std::uint8_t>(g),
                                                          static_cast<std::uint8_t>(b)});
            }
    CHECK(lab_from_srgb8(255, 255, 255).l == Approx(100.0).margin(1e-9));
    const Lab grey = lab_from_srgb8(119, 119, 119);
    CHECK(std::abs(grey.a) < 1e-9);
    CHECK(std::abs(grey.b) < 1e-9);
    const Rgb outside = srgb_from_lab({60.0, -90.0, 20.0});
    CHECK(outside.r < 0.0);
}
