#include "tedge/imaging/chart_correction.hpp"

#include <array>
#include <cmath>
#include <vector>

#include "burnt_out.hpp"
#include "encoded_light.hpp"
#include "linear_light.hpp"
#include "srgb_rows.hpp"

namespace tedge::imaging {
namespace {

constexpr int rows_between_looks = 64;

std::uint8_t shown(double light) {
    return linear_light().to_srgb8[static_cast<std::size_t>(std::lround(std::clamp(light, 0.0, 1.0) * 65535.0))];
}

void correct(const Rgb& light, const ColourTransform& transform, std::uint8_t* to) {
    const std::array<std::uint8_t, 3> seen{shown(light.r), shown(light.g), shown(light.b)};
    if (burnt_out(extremes(seen.data()))) {
        std::fill_n(to, 3, std::uint8_t{255});
        return;
    }
    const Rgb true_light = linear_srgb_from_xyz(transform.xyz(light));
    to[0] = shown(true_light.r);
    to[1] = shown(true_light.g);
    to[2] = shown(true_light.b);
}

// `light_row(y)` gives width × 3 values of linear light, full scale 1.
template <class LightRow>
Expected<Raster8> corrected(SizePx size, const ColourTransform& transform, const LightRow& light_row,
                            const Progress& progress) {
    Raster8 out(size.width_px, size.height_px, 3);
    for (int y = 0; y < size.height_px; ++y) {
        if (y % rows_between_looks == 0) {
            if (progress.stopped()) return cancelled();
            progress.at(static_cast<double>(y) / size.height_px, "bringing colours to the chart");
        }
        const float* light = light_row(y);
        std::uint8_t* to = out.row(y);
        for (int x = 0; x < size.width_px; ++x, light += 3, to += 3)
            correct({static_cast<double>(light[0]), static_cast<double>(light[1]), static_cast<double>(light[2])},
                    transform, to);
    }
    return out;
}

Expected<Raster8> corrected_camera(const Raster16& linear, const ColourTransform& transform, const Progress& progress) {
    std::vector<float> room(linear.row_samples());
    const auto row = [&](int y) {
        const std::uint16_t* from = linear.row(y);
        for (std::size_t i = 0; i < room.size(); ++i) room[i] = static_cast<float>(from[i]) / 65535.0F;
        return room.data();
    };
    return corrected(linear.size(), transform, row, progress);
}

Expected<Raster8> corrected_srgb(const Picture& picture, const ColourTransform& transform, const Progress& progress) {
    const auto rows = SrgbRows<std::uint16_t>::of(picture);
    if (!rows) return pass_on(rows);
    const std::vector<float>& light_of = light_of_encoded<std::uint16_t>();
    std::vector<std::uint16_t> encoded(static_cast<std::size_t>(picture.size().width_px) * 3);
    std::vector<float> room(encoded.size());
    const auto row = [&](int y) {
        rows->row(y, encoded.data());
        for (std::size_t i = 0; i < room.size(); ++i) room[i] = light_of[encoded[i]];
        return room.data();
    };
    return corrected(picture.size(), transform, row, progress);
}

}  // namespace

Expected<Raster8> corrected_by_chart(const Picture& picture, const ColourTransform& transform, ChartLight light,
                                     const Progress& progress) {
    if (picture.is_grey())
        return fail("chart.grey", "The photograph is grey: no colour can be measured in it.",
                    "Take in the colour photograph.");
    const auto* linear = picture.camera_space ? std::get_if<Raster16>(&picture.pixels) : nullptr;
    if ((light == ChartLight::camera) != (linear != nullptr))
        return fail("chart.other-light", "The chart was measured in another rendering of this file.",
                    "Measure the chart again.");
    return linear != nullptr ? corrected_camera(*linear, transform, progress)
                             : corrected_srgb(picture, transform, progress);
}

}  // namespace tedge::imaging
