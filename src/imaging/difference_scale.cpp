#include "tedge/imaging/difference_scale.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "tedge/base/number_text.hpp"
#include "tedge/imaging/colour.hpp"

namespace tedge::imaging {
namespace {

constexpr std::size_t steps = 1024;
using Colour = std::array<std::uint8_t, 3>;

bool in_gamut(const Lab& lab) {
    const Rgb rgb = srgb_from_lab(lab);
    const auto inside = [](double v) { return v >= 0.0 && v <= 1.0; };
    return inside(rgb.r) && inside(rgb.g) && inside(rgb.b);
}

Lab lab_at(double position, double chroma_share) {
    constexpr double hue_from = 282.0, hue_to = 360.0 + 96.0;
    const double hue = (hue_from + (hue_to - hue_from) * position) * std::numbers::pi / 180.0;
    const double chroma = chroma_share * (22.0 + 26.0 * std::sin(std::numbers::pi * std::min(1.0, position * 1.05)));
    return {14.0 + 82.0 * position, chroma * std::cos(hue), chroma * std::sin(hue)};
}

// As much of the chroma as sRGB holds.
Colour colour_at(double position) {
    double low = 0.0, high = 1.0;
    if (in_gamut(lab_at(position, 1.0))) low = 1.0;
    while (high - low > 1e-4) {
        const double middle = (low + high) / 2.0;
        (in_gamut(lab_at(position, middle)) ? low : high) = middle;
    }
    return srgb8_from_lab(lab_at(position, low));
}

const std::array<Colour, steps>& table() {
    static const std::array<Colour, steps> colours = [] {
        std::array<Colour, steps> out{};
        for (std::size_t i = 0; i < steps; ++i) out[i] = colour_at(static_cast<double>(i) / (steps - 1));
        return out;
    }();
    return colours;
}

void check(const DifferenceScale& scale) {
    if (!(scale.top > scale.floor) || scale.floor < 0.0) throw std::invalid_argument("DifferenceScale: top <= floor");
}

// 1, 2 or 5 times a power of ten, so that four to eight steps fill the scale.
double tick_step(double span) {
    const double rough = span / 6.0;
    const double power = std::pow(10.0, std::floor(std::log10(rough)));
    const double lead = rough / power;
    return power * (lead < 1.5 ? 1.0 : lead < 3.5 ? 2.0 : lead < 7.5 ? 5.0 : 10.0);
}

std::string rounded_text(double value) {
    return format_number(std::round(value * 1e6) / 1e6);
}

std::vector<LegendTick> ticks_for(const DifferenceScale& scale) {
    const double span = scale.top - scale.floor;
    const double step = tick_step(span);
    std::vector<LegendTick> ticks;
    ticks.push_back({0.0, scale.floor, rounded_text(scale.floor)});
    for (double value = (std::floor(scale.floor / step) + 1.0) * step; value < scale.top - 0.3 * step; value += step)
        if (value - scale.floor > 0.3 * step)
            ticks.push_back({(value - scale.floor) / span, value, rounded_text(value)});
    ticks.push_back({1.0, scale.top, "≥ " + rounded_text(scale.top)});
    return ticks;
}

}  // namespace

std::array<std::uint8_t, 3> scale_colour(double position) {
    const double clamped = position > 0.0 ? std::min(position, 1.0) : 0.0;
    return table()[static_cast<std::size_t>(std::lround(clamped * (steps - 1)))];
}

Raster8 draw_differences(const RasterF& map, const DifferenceScale& scale, const Raster8* counted) {
    check(scale);
    constexpr Colour left_out{119, 119, 119};
    Raster8 out(map.width_px(), map.height_px(), 3);
    const double per_unit = 1.0 / (scale.top - scale.floor);
    std::uint8_t* to = out.samples().data();
    for (std::size_t i = 0; i < map.samples().size(); ++i, to += 3) {
        const bool counts = counted == nullptr || counted->samples()[i] != 0;
        const double position = (static_cast<double>(map.samples()[i]) - scale.floor) * per_unit;
        const Colour colour = counts ? scale_colour(position) : left_out;
        std::copy(colour.begin(), colour.end(), to);
    }
    return out;
}

DifferenceLegend legend_for(const DifferenceScale& scale, SizePx bar_size) {
    check(scale);
    DifferenceLegend legend{Raster8(bar_size.width_px, bar_size.height_px, 3), ticks_for(scale), {}};
    const bool lying = bar_size.width_px >= bar_size.height_px;
    const int last = std::max(1, (lying ? bar_size.width_px : bar_size.height_px) - 1);
    for (int y = 0; y < bar_size.height_px; ++y)
        for (int x = 0; x < bar_size.width_px; ++x) {
            const int along = lying ? x : bar_size.height_px - 1 - y;
            const Colour colour = scale_colour(static_cast<double>(along) / last);
            std::copy(colour.begin(), colour.end(), &legend.bar.at(x, y));
        }
    if (scale.floor > 0.0)
        legend.floor_note =
            "Differences up to " + rounded_text(scale.floor) + " are not told apart: noise and misfit reach that far.";
    return legend;
}

}  // namespace tedge::imaging
