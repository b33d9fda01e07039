// The colour difference CIEDE2000; equation numbers are those of Sharma, Wu and Dalal (2005).
#include <cmath>
#include <numbers>

#include "tedge/imaging/colour.hpp"

namespace tedge::imaging {
namespace {

constexpr double degrees_per_radian = 180.0 / std::numbers::pi;
constexpr double pow7_of_25 = 6103515625.0;

double cos_deg(double degrees) {
    return std::cos(degrees / degrees_per_radian);
}
double sin_deg(double degrees) {
    return std::sin(degrees / degrees_per_radian);
}

double chroma_saturation(double chroma) {
    const double c7 = std::pow(chroma, 7.0);
    return std::sqrt(c7 / (c7 + pow7_of_25));
}

// eq. 7: in [0, 360), 0 for a grey.
double hue_deg(double a_prime, double b) {
    if (a_prime == 0.0 && b == 0.0) return 0.0;
    const double degrees = std::atan2(b, a_prime) * degrees_per_radian;
    return degrees < 0.0 ? degrees + 360.0 : degrees;
}

// eq. 10
double hue_difference_deg(double h1, double h2, bool either_grey) {
    if (either_grey) return 0.0;
    const double difference = h2 - h1;
    if (difference > 180.0) return difference - 360.0;
    if (difference < -180.0) return difference + 360.0;
    return difference;
}

// eq. 14
double mean_hue_deg(double h1, double h2, bool either_grey) {
    const double sum = h1 + h2;
    if (either_grey) return sum;
    if (std::abs(h1 - h2) <= 180.0) return sum / 2.0;
    return sum < 360.0 ? (sum + 360.0) / 2.0 : (sum - 360.0) / 2.0;
}

// eq. 15
double hue_weight(double h) {
    return 1.0 - 0.17 * cos_deg(h - 30.0) + 0.24 * cos_deg(2.0 * h) + 0.32 * cos_deg(3.0 * h + 6.0) -
           0.20 * cos_deg(4.0 * h - 63.0);
}

// eq. 18
double lightness_weight(double mean_lightness, LightnessWeight choice) {
    if (choice == LightnessWeight::one) return 1.0;
    const double d2 = (mean_lightness - 50.0) * (mean_lightness - 50.0);
    return 1.0 + 0.015 * d2 / std::sqrt(20.0 + d2);
}

}  // namespace

double delta_e00(const Lab& first, const Lab& second, LightnessWeight lightness) {
    // eqs. 2 to 7
    const double mean_ab = (std::hypot(first.a, first.b) + std::hypot(second.a, second.b)) / 2.0;
    const double stretch = 1.0 + 0.5 * (1.0 - chroma_saturation(mean_ab));
    const double a1 = stretch * first.a, a2 = stretch * second.a;
    const double c1 = std::hypot(a1, first.b), c2 = std::hypot(a2, second.b);
    const double h1 = hue_deg(a1, first.b), h2 = hue_deg(a2, second.b);
    const bool either_grey = c1 * c2 == 0.0;

    // eqs. 8 to 11
    const double delta_l = second.l - first.l;
    const double delta_c = c2 - c1;
    const double delta_h = 2.0 * std::sqrt(c1 * c2) * sin_deg(hue_difference_deg(h1, h2, either_grey) / 2.0);

    // eqs. 12 to 21
    const double mean_c = (c1 + c2) / 2.0;
    const double mean_h = mean_hue_deg(h1, h2, either_grey);
    const double turn = (mean_h - 275.0) / 25.0;
    const double rotation = -sin_deg(60.0 * std::exp(-turn * turn)) * 2.0 * chroma_saturation(mean_c);
    const double l_term = delta_l / lightness_weight((first.l + second.l) / 2.0, lightness);
    const double c_term = delta_c / (1.0 + 0.045 * mean_c);
    const double h_term = delta_h / (1.0 + 0.015 * mean_c * hue_weight(mean_h));

    // eq. 22
    return std::sqrt(l_term * l_term + c_term * c_term + h_term * h_term + rotation * c_term * h_term);
}

}  // namespace tedge::imaging
