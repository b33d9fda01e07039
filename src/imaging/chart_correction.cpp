#include "tedge/imaging/chart_correction.hpp"

#include <array>
#include <cmath>

#include "burnt_out.hpp"
#include "linear_light.hpp"
#include "row_progress.hpp"

namespace tedge::imaging {
namespace {

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

}  // namespace

Expected<Raster8> corrected_by_chart(const ChartPicture& picture, const ColourTransform& transform, ChartLight light,
                                     const Progress& progress) {
    if (picture.light != light)
        return fail("chart.other-light", "The chart was measured in another rendering of this file.",
                    "Measure the chart again.");
    const SizePx size = picture.linear.size();
    Raster8 out(size.width_px, size.height_px, 3);
    for (int y = 0; y < size.height_px; ++y) {
        if (stopped_at_row(progress, y, size.height_px, "bringing colours to the chart")) return cancelled();
        const std::uint16_t* from = picture.linear.row(y);
        std::uint8_t* to = out.row(y);
        for (int x = 0; x < size.width_px; ++x, from += 3, to += 3)
            correct({from[0] / 65535.0, from[1] / 65535.0, from[2] / 65535.0}, transform, to);
    }
    return out;
}

}  // namespace tedge::imaging
