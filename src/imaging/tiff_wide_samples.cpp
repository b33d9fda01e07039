#include "tiff_wide_samples.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <type_traits>
#include <vector>

#include "tedge/imaging/colour.hpp"

namespace tedge::imaging {

namespace {

constexpr float top_of_8_bits = 255.0F, top_of_16_bits = 65535.0F;

std::uint16_t sample_from_unit(float value) {
    if (!(value > 0.0F)) return 0;  // not-a-number too
    return static_cast<std::uint16_t>(std::lround(std::min(value, 1.0F) * 65535.0F));
}

float float_from_half(std::uint16_t half) {
    const int exponent = (half >> 10) & 0x1F;
    const int fraction = half & 0x3FF;
    const float sign = (half & 0x8000) != 0 ? -1.0F : 1.0F;
    if (exponent == 31)
        return fraction == 0 ? sign * std::numeric_limits<float>::infinity() : std::numeric_limits<float>::quiet_NaN();
    if (exponent == 0) return sign * std::ldexp(static_cast<float>(fraction), -24);
    return sign * std::ldexp(static_cast<float>(fraction + 1024), exponent - 25);
}

// L* to 100, a* and b* as they are; 8 bits in whole steps, 16 in 256ths of them.
template <class T>
Lab lab_of(const T* pixel, bool is_icc) {
    constexpr bool deep = sizeof(T) == 2;
    constexpr double step = deep ? 256.0 : 1.0;
    const auto signed_part = [&](T value) {
        if (is_icc) return value / step - 128.0;
        return static_cast<std::make_signed_t<T>>(value) / step;
    };
    // ICC's 16 bits reach 100 at 0xFF00 (ICC.1:2001-04), TIFF's at 0xFFFF.
    const double white = !deep ? 255.0 : is_icc ? 65280.0 : 65535.0;
    return {pixel[0] * 100.0 / white, signed_part(pixel[1]), signed_part(pixel[2])};
}

}  // namespace

Raster16 from_32_bits(const Raster<std::uint32_t>& samples) {
    Raster16 out(samples.width_px(), samples.height_px(), samples.channels());
    std::ranges::transform(samples.samples(), out.samples().begin(),
                           [](std::uint32_t v) { return static_cast<std::uint16_t>(v >> 16U); });
    return out;
}

RasterF from_half_floats(const Raster16& samples) {
    RasterF out(samples.width_px(), samples.height_px(), samples.channels());
    std::ranges::transform(samples.samples(), out.samples().begin(), float_from_half);
    return out;
}

FloatTop top_of(const RasterF& samples) {
    // Light above white is written as a few times white, seldom as more than 16 times.
    constexpr float no_light = 16.0F;
    constexpr std::size_t most_looked_at = 1'000'000;
    const auto values = samples.samples();
    float largest = 0.0F;
    for (const float v : values)
        if (v > largest) largest = v;
    if (!(largest > no_light) || largest > top_of_16_bits) return FloatTop::one;
    std::vector<float> some;
    const std::size_t step = std::max<std::size_t>(1, values.size() / most_looked_at);
    for (std::size_t i = 0; i < values.size(); i += step)
        if (values[i] > 0.0F) some.push_back(values[i]);
    if (some.empty()) return FloatTop::one;
    const auto middle = some.begin() + static_cast<std::ptrdiff_t>(some.size() / 2);
    std::ranges::nth_element(some, middle);
    if (largest <= top_of_8_bits) return *middle > no_light ? FloatTop::of_8_bits : FloatTop::one;
    return *middle > top_of_8_bits ? FloatTop::of_16_bits : FloatTop::one;
}

UnitFloats from_floats(const RasterF& samples, FloatTop top) {
    const float white = top == FloatTop::of_8_bits    ? top_of_8_bits
                        : top == FloatTop::of_16_bits ? top_of_16_bits
                                                      : 1.0F;
    UnitFloats out{Raster16(samples.width_px(), samples.height_px(), samples.channels())};
    std::ranges::transform(samples.samples(), out.samples.samples().begin(),
                           [white](float v) { return sample_from_unit(v / white); });
    out.cut_off_above = std::ranges::any_of(samples.samples(), [white](float v) { return v > white; });
    out.black_below = std::ranges::any_of(samples.samples(), [](float v) { return !(v >= 0.0F); });
    return out;
}

template <class T>
Raster16 srgb_from_lab(const Raster<T>& lab, bool is_icc) {
    Raster16 out(lab.width_px(), lab.height_px(), 3);
    const auto step = static_cast<std::size_t>(lab.channels());
    const T* from = lab.samples().data();
    for (auto to = out.samples().begin(); to != out.samples().end(); from += step) {
        const Rgb linear = linear_srgb_from_xyz(xyz_from_lab(lab_of(from, is_icc)));
        for (const double each : {linear.r, linear.g, linear.b})
            *to++ = static_cast<std::uint16_t>(std::lround(65535.0 * srgb_encoded(std::clamp(each, 0.0, 1.0))));
    }
    return out;
}

template Raster16 srgb_from_lab(const Raster8& lab, bool is_icc);
template Raster16 srgb_from_lab(const Raster16& lab, bool is_icc);

}  // namespace tedge::imaging
