// CIEDE2000 without calls to trigonometric functions, so that the compiler can work on eight pixels at once.
//
// The same formula as in ciede2000.cpp, put differently:
//   - hue is a unit vector (a'/C', b/C'); the mean hue of eq. 14 is the direction of the sum of both, for its rule
//   about 180°
//     picks the middle of the smaller arc; cosines of multiples of it follow from the vector;
//   - 2 sqrt(C1' C2') sin(Δh'/2) of eq. 11 is sqrt(C1' C2') times the distance of both unit vectors, with the sign of
//   their cross
//     product;
//   - only the turn from 275° (eq. 16) needs an angle: a polynomial of the tangent of its half.
//
// Compiled with -ffast-math -O3, and three times: for every x86-64 machine, for those with AVX2, and with AVX-512.
#include "delta_e_block.hpp"

#include <bit>
#include <cmath>
#include <cstdint>

#include "lab_block.hpp"

namespace tedge::imaging {
namespace {

constexpr float pow7_of_25 = 6103515625.0F;
// Two hues this near to opposite: the mean hue jumps by 180° there, and single precision cannot say to which side.
constexpr float least_sum = 4e-3F;

// eq. 4 and 20: sqrt(C^7 / (C^7 + 25^7))
TEDGE_INLINE float chroma_saturation(float chroma) {
    const float c2 = chroma * chroma;
    const float c7 = c2 * c2 * c2 * chroma;
    return std::sqrt(c7 / (c7 + pow7_of_25));
}

// e^-x for x >= 0: powers of two from the exponent's bits, the rest by the series of 2^f on [-0.5, 0.5].
TEDGE_INLINE float exp_of_minus(float x) {
    const float z = -select(x < 80.0F, x, 80.0F) * 1.44269504F;
    const float whole = static_cast<float>(static_cast<std::int32_t>(z - 0.5F));
    const float g = (z - whole) * 0.69314718F;
    const float series = 1.0F + g * (1.0F + g * (0.5F + g * (1.0F / 6 + g * (1.0F / 24 + g * (1.0F / 120)))));
    return series * std::bit_cast<float>((static_cast<std::int32_t>(whole) + 127) << 23);
}

// Arc tangent on [-1, 1] by its minimax polynomial (coefficients from memory; a test holds the result against double).
TEDGE_INLINE float arc_tangent(float t) {
    const float t2 = t * t;
    return t * (0.99997726F +
                t2 * (-0.33262347F + t2 * (0.19354346F + t2 * (-0.11643287F + t2 * (0.05265332F - t2 * 0.01172120F)))));
}

// Series to x^9, for 0 <= x <= pi/3.
TEDGE_INLINE float sine(float x) {
    const float x2 = x * x;
    return x * (1.0F + x2 * (-1.0F / 6 + x2 * (1.0F / 120 + x2 * (-1.0F / 5040 + x2 * (1.0F / 362880)))));
}

// eq. 16, 19, 21: how much blue chroma and hue are tilted against each other. (c, s) is the mean hue.
TEDGE_INLINE float rotation(float c, float s, float mean_chroma) {
    constexpr float cos275 = 0.08715574F, sin275 = -0.99619470F;
    const float cos_turn = c * cos275 + s * sin275;
    const float sin_turn = s * cos275 - c * sin275;
    // Beyond 90° from 275° the exponential is nothing, whatever the angle.
    const float half = sin_turn / (1.0F + select(cos_turn > 0.0F, cos_turn, 0.0F));
    const float turn_deg = 2.0F * 57.29577951F * arc_tangent(half);
    const float scaled = turn_deg * (1.0F / 25.0F);
    const float near_275 = select(cos_turn > 0.0F, exp_of_minus(scaled * scaled), 0.0F);
    return -sine(near_275 * 1.04719755F) * 2.0F * chroma_saturation(mean_chroma);
}

// eq. 15
TEDGE_INLINE float hue_weight(float c, float s) {
    const float c2 = c * c - s * s, s2 = 2.0F * c * s;
    const float c3 = c2 * c - s2 * s, s3 = s2 * c + c2 * s;
    const float c4 = c2 * c2 - s2 * s2, s4 = 2.0F * c2 * s2;
    constexpr float cos30 = 0.86602540F, sin30 = 0.5F, cos6 = 0.99452190F, sin6 = 0.10452846F, cos63 = 0.45399050F,
                    sin63 = 0.89100652F;
    return 1.0F - 0.17F * (c * cos30 + s * sin30) + 0.24F * c2 + 0.32F * (c3 * cos6 - s3 * sin6) -
           0.20F * (c4 * cos63 + s4 * sin63);
}

TEDGE_INLINE float lightness_weight(float mean_lightness) {
    const float d2 = (mean_lightness - 50.0F) * (mean_lightness - 50.0F);
    return 1.0F + 0.015F * d2 / std::sqrt(20.0F + d2);
}

TEDGE_INLINE float delta_e00(const LabF& first, const LabF& second, float lightness_one) {
    const float c_ab1 = std::sqrt(first.a * first.a + first.b * first.b);
    const float c_ab2 = std::sqrt(second.a * second.a + second.b * second.b);
    const float stretch = 1.5F - 0.5F * chroma_saturation(0.5F * (c_ab1 + c_ab2));
    const float grey1 = select(c_ab1 < least_chroma, 0.0F, 1.0F), grey2 = select(c_ab2 < least_chroma, 0.0F, 1.0F);
    const float a1 = stretch * first.a * grey1, b1 = first.b * grey1;
    const float a2 = stretch * second.a * grey2, b2 = second.b * grey2;
    const float c1 = std::sqrt(a1 * a1 + b1 * b1), c2 = std::sqrt(a2 * a2 + b2 * b2);
    constexpr float tiny = 1e-12F;
    const float per_c1 = 1.0F / (c1 + tiny), per_c2 = 1.0F / (c2 + tiny);
    const float x1 = a1 * per_c1, y1 = b1 * per_c1, x2 = a2 * per_c2, y2 = b2 * per_c2;

    const float apart = std::sqrt((x1 - x2) * (x1 - x2) + (y1 - y2) * (y1 - y2));
    const float delta_h = std::sqrt(c1 * c2) * select(x1 * y2 - y1 * x2 < 0.0F, -apart, apart);
    const float sum_x = x1 + x2, sum_y = y1 + y2;
    const float sum = std::sqrt(sum_x * sum_x + sum_y * sum_y);
    const float per_sum = 1.0F / (sum + tiny);
    const float c = sum_x * per_sum, s = sum_y * per_sum;

    const float mean_c = 0.5F * (c1 + c2);
    const float mean_l = 0.5F * (first.l + second.l);
    const float s_l = select(lightness_one > 0.5F, 1.0F, lightness_weight(mean_l));
    const float l_term = (second.l - first.l) / s_l;
    const float c_term = (c2 - c1) / (1.0F + 0.045F * mean_c);
    const float h_term = delta_h / (1.0F + 0.015F * mean_c * hue_weight(c, s));
    const float square = l_term * l_term + c_term * c_term + h_term * h_term + rotation(c, s, mean_c) * c_term * h_term;
    const float difference = std::sqrt(select(square > 0.0F, square, 0.0F));
    return select(sum + (1.0F - grey1 * grey2) < least_sum, delta_e_unsure, difference);
}

}  // namespace

TEDGE_CLONES
void delta_e00_block(const LightBlock& first, const LightBlock& second, const LightToXyz& matrix,
                     bool lightness_weight_one, float* out) {
    const LightToXyz m = matrix;
    const float lightness_one = lightness_weight_one ? 1.0F : 0.0F;
    for (std::size_t i = 0; i < delta_e_block_pixels; ++i) {
        const LabF a = lab_of(first.red[i], first.green[i], first.blue[i], m);
        const LabF b = lab_of(second.red[i], second.green[i], second.blue[i], m);
        out[i] = delta_e00(a, b, lightness_one);
    }
}

}  // namespace tedge::imaging
