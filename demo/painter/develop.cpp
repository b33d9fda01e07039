#include "develop.hpp"

#include <algorithm>
#include <cmath>

#include "layers.hpp"
#include "noise.hpp"
#include "parallel.hpp"
#include "random.hpp"
#include "scene.hpp"

namespace tedge::painter {
namespace {

class Darkroom {
public:
    Darkroom(const imaging::Raster16& frame, const Sensor& sensor) : frame_(frame), s_(sensor) {}

    [[nodiscard]] Rgb at(int x, int y) const {
        Rgb light = linear(x, y);
        if (s_.sharpening > 0.0F) light = light + (light - around(x, y)) * s_.sharpening;
        light = noisy(light, x, y);
        const Rgb seen{dot(s_.red, light), dot(s_.green, light), dot(s_.blue, light)};
        return toned(seen);
    }

private:
    static float dot(Rgb row, Rgb c) { return row.r * c.r + row.g * c.g + row.b * c.b; }

    [[nodiscard]] Rgb linear(int x, int y) const {
        constexpr float unit_share = 1.0F / (65535.0F * frame_unit);
        const std::uint16_t* c = frame_.row(y) + 3 * x;
        return {static_cast<float>(c[0]) * unit_share, static_cast<float>(c[1]) * unit_share,
                static_cast<float>(c[2]) * unit_share};
    }

    [[nodiscard]] Rgb around(int x, int y) const {
        const int left = std::max(0, x - 1), right = std::min(frame_.width_px() - 1, x + 1);
        const int above = std::max(0, y - 1), below = std::min(frame_.height_px() - 1, y + 1);
        return (linear(left, y) + linear(right, y) + linear(x, above) + linear(x, below)) * 0.25F;
    }

    [[nodiscard]] Rgb noisy(Rgb light, int x, int y) const {
        const Words a = pcg3d(static_cast<std::uint32_t>(x), static_cast<std::uint32_t>(y), s_.seed);
        const Words b = pcg3d(static_cast<std::uint32_t>(x), static_cast<std::uint32_t>(y), s_.seed ^ 0x5bd1e995U);
        const float read = s_.read_noise_e / s_.full_well_e;
        const auto deviation = [&](float v) { return std::sqrt(std::max(0.0F, v) / s_.full_well_e + read * read); };
        return {light.r + deviation(light.r) * normal(a[0], b[0]), light.g + deviation(light.g) * normal(a[1], b[1]),
                light.b + deviation(light.b) * normal(a[2], b[2])};
    }

    [[nodiscard]] Rgb toned(Rgb c) const {
        Rgb e{table_.encoded(c.r), table_.encoded(c.g), table_.encoded(c.b)};
        if (s_.contrast == 0.0F && s_.saturation == 1.0F) return e;
        const float grey_value = luminance(e);
        e = grey(grey_value) + (e - grey(grey_value)) * s_.saturation;
        const auto curve = [&](float v) {
            v = clamp01(v);
            return mix(v, v * v * (3.0F - 2.0F * v), s_.contrast);
        };
        return {curve(e.r), curve(e.g), curve(e.b)};
    }

    const imaging::Raster16& frame_;
    const Sensor& s_;
    SrgbTable table_;
};

template <class Raster>
Raster developed(const imaging::Raster16& frame, const Sensor& sensor, int threads, float full) {
    using Sample = std::remove_reference_t<decltype(*std::declval<Raster>().row(0))>;
    Raster out(frame.width_px(), frame.height_px(), 3);
    const Darkroom darkroom(frame, sensor);
    for_bands(frame.height_px(), 16, threads, [&](int first, int end) {
        for (int y = first; y < end; ++y)
            for (int x = 0; x < frame.width_px(); ++x) {
                const Rgb c = darkroom.at(x, y);
                auto* pixel = out.row(y) + 3 * x;
                pixel[0] = static_cast<Sample>(c.r * full + 0.5F);
                pixel[1] = static_cast<Sample>(c.g * full + 0.5F);
                pixel[2] = static_cast<Sample>(c.b * full + 0.5F);
            }
    });
    return out;
}

}  // namespace

imaging::Raster16 develop_16(const imaging::Raster16& frame, const Sensor& sensor, int threads) {
    return developed<imaging::Raster16>(frame, sensor, threads, 65535.0F);
}

imaging::Raster8 develop_8(const imaging::Raster16& frame, const Sensor& sensor, int threads) {
    return developed<imaging::Raster8>(frame, sensor, threads, 255.0F);
}

}  // namespace tedge::painter
