#include "tedge/imaging/colour.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace tedge::imaging {
namespace {

constexpr double lab_epsilon = 216.0 / 24389.0;
constexpr double lab_kappa = 24389.0 / 27.0;

Matrix3 product(const Matrix3& a, const Matrix3& b) {
    Matrix3 out{};
    for (std::size_t i = 0; i < 3; ++i)
        for (std::size_t j = 0; j < 3; ++j)
            for (std::size_t k = 0; k < 3; ++k) out[i][j] += a[i][k] * b[k][j];
    return out;
}

std::array<double, 3> applied(const Matrix3& m, const std::array<double, 3>& v) {
    std::array<double, 3> out{};
    for (std::size_t i = 0; i < 3; ++i) out[i] = m[i][0] * v[0] + m[i][1] * v[1] + m[i][2] * v[2];
    return out;
}

// By cofactors; cyclic indices carry the signs.
Matrix3 inverse(const Matrix3& m) {
    Matrix3 out{};
    const auto cofactor = [&m](std::size_t i, std::size_t j) {
        const std::size_t i1 = (i + 1) % 3, i2 = (i + 2) % 3, j1 = (j + 1) % 3, j2 = (j + 2) % 3;
        return m[i1][j1] * m[i2][j2] - m[i1][j2] * m[i2][j1];
    };
    const double determinant = m[0][0] * cofactor(0, 0) + m[0][1] * cofactor(0, 1) + m[0][2] * cofactor(0, 2);
    for (std::size_t i = 0; i < 3; ++i)
        for (std::size_t j = 0; j < 3; ++j) out[j][i] = cofactor(i, j) / determinant;
    return out;
}

Matrix3 diagonal(const std::array<double, 3>& d) {
    return {{{d[0], 0.0, 0.0}, {0.0, d[1], 0.0}, {0.0, 0.0, d[2]}}};
}

// Columns are the XYZ of the primaries, scaled so that (1, 1, 1) is the white.
Matrix3 xyz_from_primaries(const std::array<std::array<double, 2>, 3>& xy, const std::array<double, 3>& white) {
    Matrix3 columns{};
    for (std::size_t p = 0; p < 3; ++p) {
        columns[0][p] = xy[p][0] / xy[p][1];
        columns[1][p] = 1.0;
        columns[2][p] = (1.0 - xy[p][0] - xy[p][1]) / xy[p][1];
    }
    return product(columns, diagonal(applied(inverse(columns), white)));
}

// Linear Bradford transform, ICC.1:2022 annex E.
Matrix3 adaptation(const std::array<double, 3>& from_white, const std::array<double, 3>& to_white) {
    const Matrix3 bradford{{{0.8951, 0.2664, -0.1614}, {-0.7502, 1.7135, 0.0367}, {0.0389, -0.0685, 1.0296}}};
    const auto from = applied(bradford, from_white);
    const auto to = applied(bradford, to_white);
    return product(inverse(bradford), product(diagonal({to[0] / from[0], to[1] / from[1], to[2] / from[2]}), bradford));
}

Matrix3 computed_xyz_d50_from_linear_srgb() {
    const std::array<double, 3> d65{0.3127 / 0.3290, 1.0, (1.0 - 0.3127 - 0.3290) / 0.3290};
    const Matrix3 native = xyz_from_primaries({{{0.64, 0.33}, {0.30, 0.60}, {0.15, 0.06}}}, d65);
    return product(adaptation(d65, {d50_white.x, d50_white.y, d50_white.z}), native);
}

double lab_f(double t) {
    return t > lab_epsilon ? std::cbrt(t) : (lab_kappa * t + 16.0) / 116.0;
}

double lab_f_inverse(double f) {
    const double cube = f * f * f;
    return cube > lab_epsilon ? cube : (116.0 * f - 16.0) / lab_kappa;
}

std::uint8_t byte_from_unit(double value) {
    return static_cast<std::uint8_t>(std::lround(std::clamp(value, 0.0, 1.0) * 255.0));
}

}  // namespace

const Matrix3& xyz_d50_from_linear_srgb() {
    static const Matrix3 matrix = computed_xyz_d50_from_linear_srgb();
    return matrix;
}

const Matrix3& linear_srgb_from_xyz_d50() {
    static const Matrix3 matrix = inverse(xyz_d50_from_linear_srgb());
    return matrix;
}

double srgb_decoded(double encoded) {
    const double v = std::abs(encoded);
    return std::copysign(v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4), encoded);
}

double srgb_encoded(double linear) {
    const double v = std::abs(linear);
    return std::copysign(v <= 0.0031308 ? v * 12.92 : 1.055 * std::pow(v, 1.0 / 2.4) - 0.055, linear);
}

Xyz xyz_from_linear_srgb(const Rgb& linear) {
    const auto v = applied(xyz_d50_from_linear_srgb(), {linear.r, linear.g, linear.b});
    return {v[0], v[1], v[2]};
}

Rgb linear_srgb_from_xyz(const Xyz& xyz_d50) {
    const auto v = applied(linear_srgb_from_xyz_d50(), {xyz_d50.x, xyz_d50.y, xyz_d50.z});
    return {v[0], v[1], v[2]};
}

Lab lab_from_xyz(const Xyz& xyz_d50) {
    const double fx = lab_f(xyz_d50.x / d50_white.x);
    const double fy = lab_f(xyz_d50.y / d50_white.y);
    const double fz = lab_f(xyz_d50.z / d50_white.z);
    return {116.0 * fy - 16.0, 500.0 * (fx - fy), 200.0 * (fy - fz)};
}

Xyz xyz_from_lab(const Lab& lab_d50) {
    const double fy = (lab_d50.l + 16.0) / 116.0;
    return {d50_white.x * lab_f_inverse(fy + lab_d50.a / 500.0), d50_white.y * lab_f_inverse(fy),
            d50_white.z * lab_f_inverse(fy - lab_d50.b / 200.0)};
}

Lab lab_from_srgb(const Rgb& encoded) {
    return lab_from_xyz(
        xyz_from_linear_srgb({srgb_decoded(encoded.r), srgb_decoded(encoded.g), srgb_decoded(encoded.b)}));
}

Rgb srgb_from_lab(const Lab& lab_d50) {
    const Rgb linear = linear_srgb_from_xyz(xyz_from_lab(lab_d50));
    return {srgb_encoded(linear.r), srgb_encoded(linear.g), srgb_encoded(linear.b)};
}

Lab lab_from_srgb8(std::uint8_t r, std::uint8_t g, std::uint8_t b) {
    return lab_from_srgb({r / 255.0, g / 255.0, b / 255.0});
}

std::array<std::uint8_t, 3> srgb8_from_lab(const Lab& lab_d50) {
    const Rgb rgb = srgb_from_lab(lab_d50);
    return {byte_from_unit(rgb.r), byte_from_unit(rgb.g), byte_from_unit(rgb.b)};
}

}  // namespace tedge::imaging
