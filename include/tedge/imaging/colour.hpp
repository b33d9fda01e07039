// Colour spaces: sRGB, CIE XYZ and CIELAB, both relative to the D50 white of ICC profiles (2° observer).
//
// sRGB is IEC 61966-2-1: its curve, its primaries, white D65 (x 0.3127, y 0.3290). XYZ is scaled so that white has Y =
// 1 and is brought from D65 to D50 by the linear Bradford transform (ICC.1, annex E). CIELAB is CIE 15 with the exact
// rational constants 216/24389 and 24389/27.
#pragma once

#include <array>
#include <cstdint>

namespace tedge::imaging {

struct Xyz {
    double x = 0.0;
    double y = 0.0;
    double z = 0.0;
    friend bool operator==(const Xyz&, const Xyz&) = default;
};

// L* 0 to 100; a* towards red, b* towards yellow.
struct Lab {
    double l = 0.0;
    double a = 0.0;
    double b = 0.0;
    friend bool operator==(const Lab&, const Lab&) = default;
};

// Either encoded ("sRGB values") or linear light, as the function says; 0 to 1, beyond when out of gamut.
struct Rgb {
    double r = 0.0;
    double g = 0.0;
    double b = 0.0;
    friend bool operator==(const Rgb&, const Rgb&) = default;
};

// The profile connection space white of ICC.1:2022.
inline constexpr Xyz d50_white{0.96422, 1.0, 0.82521};

using Matrix3 = std::array<std::array<double, 3>, 3>;

// Row-major, xyz_d50 = matrix · linear sRGB. White (1, 1, 1) gives d50_white.
[[nodiscard]] const Matrix3& xyz_d50_from_linear_srgb();
[[nodiscard]] const Matrix3& linear_srgb_from_xyz_d50();

// The sRGB curve on one channel; mirrored for negative values.
[[nodiscard]] double srgb_decoded(double encoded);
[[nodiscard]] double srgb_encoded(double linear);

[[nodiscard]] Xyz xyz_from_linear_srgb(const Rgb& linear);
[[nodiscard]] Rgb linear_srgb_from_xyz(const Xyz& xyz_d50);
[[nodiscard]] Lab lab_from_xyz(const Xyz& xyz_d50);
[[nodiscard]] Xyz xyz_from_lab(const Lab& lab_d50);

// From encoded sRGB values 0 to 1 and back; the way back may leave 0 to 1 (out of gamut).
[[nodiscard]] Lab lab_from_srgb(const Rgb& encoded);
[[nodiscard]] Rgb srgb_from_lab(const Lab& lab_d50);
[[nodiscard]] Lab lab_from_srgb8(std::uint8_t r, std::uint8_t g, std::uint8_t b);
// Clipped to the gamut channel by channel and rounded.
[[nodiscard]] std::array<std::uint8_t, 3> srgb8_from_lab(const Lab& lab_d50);

// CIEDE2000 in double precision. Source: Sharma, Wu, Dalal, Color Research and Application 30(1), 21–30 (2005), eqs.
// 2–22.
enum class LightnessWeight {
    standard,  // S_L of the formula
    one        // S_L = 1, as imaging guidelines for flat artwork ask
};
[[nodiscard]] double delta_e00(const Lab& first, const Lab& second,
                               LightnessWeight lightness = LightnessWeight::standard);

}  // namespace tedge::imaging
