// Linear light in the primaries of sRGB (IEC 61966-2-1), white = 1.
#pragma once

#include <array>
#include <cstdint>

namespace tedge::painter {

struct Rgb {
    float r = 0.0F;
    float g = 0.0F;
    float b = 0.0F;

    friend constexpr Rgb operator+(Rgb p, Rgb q) { return {p.r + q.r, p.g + q.g, p.b + q.b}; }
    friend constexpr Rgb operator-(Rgb p, Rgb q) { return {p.r - q.r, p.g - q.g, p.b - q.b}; }
    friend constexpr Rgb operator*(Rgb p, Rgb q) { return {p.r * q.r, p.g * q.g, p.b * q.b}; }
    friend constexpr Rgb operator*(Rgb p, float k) { return {p.r * k, p.g * k, p.b * k}; }
};

[[nodiscard]] constexpr Rgb mix(Rgb p, Rgb q, float t) {
    return p + (q - p) * t;
}
[[nodiscard]] constexpr Rgb grey(float v) {
    return {v, v, v};
}
[[nodiscard]] constexpr float luminance(Rgb c) {
    return 0.2126F * c.r + 0.7152F * c.g + 0.0722F * c.b;
}

// 0xRRGGBB as sRGB bytes.
[[nodiscard]] Rgb from_srgb(std::uint32_t hex);

// Encoded value 0..1 of a linear one, clipped; the inverse for one byte.
[[nodiscard]] float srgb_encoded(float linear);
[[nodiscard]] float srgb_decoded(float encoded);

// The same by table for linear values in [0, 1]: 0..65535, error below 2 of 65535 above the darkest hundredth.
class SrgbTable {
public:
    SrgbTable();
    [[nodiscard]] float encoded(float linear) const {
        const float place = (linear < 0.0F ? 0.0F : (linear > 1.0F ? 1.0F : linear)) * static_cast<float>(steps);
        const int cell = static_cast<int>(place) < steps ? static_cast<int>(place) : steps - 1;
        const float t = place - static_cast<float>(cell);
        const auto i = static_cast<std::size_t>(cell);
        return values_[i] + (values_[i + 1] - values_[i]) * t;
    }

private:
    static constexpr int steps = 8192;
    std::array<float, steps + 1> values_{};
};

// CIE Lab under D50 to linear sRGB (white D65), by the Bradford matrix; may lie outside 0..1.
[[nodiscard]] Rgb from_lab_d50(double lightness, double a, double b);

}  // namespace tedge::painter
