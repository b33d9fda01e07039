#include "colour.hpp"

#include <cmath>

namespace tedge::painter {

float srgb_encoded(float linear) {
    if (linear <= 0.0F) return 0.0F;
    if (linear >= 1.0F) return 1.0F;
    return linear <= 0.0031308F ? 12.92F * linear : 1.055F * std::pow(linear, 1.0F / 2.4F) - 0.055F;
}

float srgb_decoded(float encoded) {
    return encoded <= 0.04045F ? encoded / 12.92F : std::pow((encoded + 0.055F) / 1.055F, 2.4F);
}

Rgb from_srgb(std::uint32_t hex) {
    const auto channel = [hex](unsigned shift) {
        return srgb_decoded(static_cast<float>((hex >> shift) & 0xFFU) / 255.0F);
    };
    return {channel(16U), channel(8U), channel(0U)};
}

SrgbTable::SrgbTable() {
    for (std::size_t i = 0; i < values_.size(); ++i)
        values_[i] = srgb_encoded(static_cast<float>(i) / static_cast<float>(steps));
}

Rgb from_lab_d50(double lightness, double a, double b) {
    // CIE 15: the inverse of the Lab functions, with D50 as in the ICC profile connection space.
    const auto inverse = [](double f) { return f > 6.0 / 29.0 ? f * f * f : 3.0 * 36.0 / 841.0 * (f - 4.0 / 29.0); };
    const double fy = (lightness + 16.0) / 116.0;
    const double x = 0.96422 * inverse(fy + a / 500.0);
    const double y = inverse(fy);
    const double z = 0.82521 * inverse(fy - b / 200.0);
    // XYZ D50 to linear sRGB with the Bradford adaptation folded in (the inverse of the sRGB profile's colorants).
    const auto channel = [&](double kx, double ky, double kz) { return static_cast<float>(kx * x + ky * y + kz * z); };
    return {channel(3.1338561, -1.6168667, -0.4906146), channel(-0.9787684, 1.9161415, 0.0334540),
            channel(0.0719453, -0.2289914, 1.4052427)};
}

}  // namespace tedge::painter
