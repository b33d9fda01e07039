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

// The two ends differ in blue against yellow, which both kinds of red-green blindness see, and in lightness from the
// middle.
Lab two_way_lab_at(double position, double chroma_share) {
    constexpr double blue_hue = 268.0, brown_hue = 58.0;
    const double size = std::abs(position);
    const double hue = (position < 0.0 ? blue_hue : brown_hue) * std::numbers::pi / 180.0;
    const double chroma = chroma_share * 58.0 * std::sin(std::numbers::pi / 2.0 * std::min(1.0, 1.25 * size));
    return {96.0 - 64.0 * size, chroma * std::cos(hue), chroma * std::sin(hue)};
}

Lab lab_at(double position, double chroma_share) {
    constexpr double hue_from = 282.0, hue_to = 360.0 + 96.0;
    const double hue = (hue_from + (hue_to - hue_from) * position) * std::numbers::pi / 180.0;
    const double chroma = chroma_share * (22.0 + 26.0 * std::sin(std::numbers::pi * std::min(1.0, position * 1.05)));
    return {14.0 + 82.0 * position, chroma * std::cos(hue), chroma * std::sin(hue)};
}

// As much of the chroma as sRGB holds.
template <class LabAt>
Colour colour_at(double position, const LabAt& lab) {
    double low = 0.0, high = 1.0;
    if (in_gamut(lab(position, 1.0))) low = 1.0;
    while (high - low > 1e-4) {
        const double middle = (low + high) / 2.0;
        (in_gamut(lab(position, middle)) ? low : high) = middle;
    }
    return srgb8_from_lab(lab(position, low));
}

template <class LabAt>
std::array<Colour, steps> table_of(double from, double to, const LabAt& lab) {
    std::array<Colour, steps> out{};
    for (std::size_t i = 0; i < steps; ++i)
        out[i] = colour_at(from + (to - from) * static_cast<double>(i) / (steps - 1), lab);
    return out;
}

// Where a difference stands on its scale: 0 to 1, or -1 to 1; not clamped.
double place_on(const DifferenceScale& scale, double value) {
    const double span = scale.top - scale.floor;
    if (!scale.both_ways) return (value - scale.floor) / span;
    return std::copysign(std::max(0.0, std::abs(value) - scale.floor) / span, value);
}

Colour colour_on(const DifferenceScale& scale, double place) {
    return scale.both_ways ? two_way_colour(place) : scale_colour(place);
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

std::vector<LegendTick> one_way_ticks(const DifferenceScale& scale) {
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

// The upper half, mirrored about a middle that stands for all that is no difference.
std::vector<LegendTick> two_way_ticks(const DifferenceScale& scale) {
    const std::vector<LegendTick> upper = one_way_ticks(scale);
    std::vector<LegendTick> ticks;
    for (std::size_t i = upper.size() - 1; i > 0; --i)
        ticks.push_back({(1.0 - upper[i].position) / 2.0, -upper[i].value,
                         (i + 1 == upper.size() ? "≤ −" : "−") + rounded_text(upper[i].value)});
    ticks.push_back({0.5, 0.0, scale.floor > 0.0 ? "± " + rounded_text(scale.floor) : "0"});
    for (std::size_t i = 1; i < upper.size(); ++i)
        ticks.push_back({(1.0 + upper[i].position) / 2.0, upper[i].value, upper[i].label});
    return ticks;
}

}  // namespace

std::array<std::uint8_t, 3> scale_colour(double position) {
    static const auto colours = table_of(0.0, 1.0, lab_at);
    const double clamped = position > 0.0 ? std::min(position, 1.0) : 0.0;
    return colours[static_cast<std::size_t>(std::lround(clamped * (steps - 1)))];
}

std::array<std::uint8_t, 3> two_way_colour(double position) {
    // One half each, so that nothing is the very middle.
    static const auto less = table_of(0.0, -1.0, two_way_lab_at), more = table_of(0.0, 1.0, two_way_lab_at);
    const double size = std::min(std::abs(position), 1.0);
    return (position < 0.0 ? less : more)[static_cast<std::size_t>(std::lround(size * (steps - 1)))];
}

Raster8 draw_differences(const RasterF& map, const DifferenceScale& scale, const Raster8* counted) {
    check(scale);
    constexpr Colour left_out{119, 119, 119};
    Raster8 out(map.width_px(), map.height_px(), 3);
    std::uint8_t* to = out.samples().data();
    for (std::size_t i = 0; i < map.samples().size(); ++i, to += 3) {
        const bool counts = counted == nullptr || counted->samples()[i] != 0;
        const Colour colour =
            counts ? colour_on(scale, place_on(scale, static_cast<double>(map.samples()[i]))) : left_out;
        std::copy(colour.begin(), colour.end(), to);
    }
    return out;
}

DifferenceLegend legend_for(const DifferenceScale& scale, SizePx bar_size) {
    check(scale);
    DifferenceLegend legend{Raster8(bar_size.width_px, bar_size.height_px, 3),
                            scale.both_ways ? two_way_ticks(scale) : one_way_ticks(scale),
                            {}};
    const bool lying = bar_size.width_px >= bar_size.height_px;
    const int last = std::max(1, (lying ? bar_size.width_px : bar_size.height_px) - 1);
    for (int y = 0; y < bar_size.height_px; ++y)
        for (int x = 0; x < bar_size.width_px; ++x) {
            const int along = lying ? x : bar_size.height_px - 1 - y;
            const double share = static_cast<double>(along) / last;
            const Colour colour = colour_on(scale, scale.both_ways ? 2.0 * share - 1.0 : share);
            std::copy(colour.begin(), colour.end(), &legend.bar.at(x, y));
        }
    if (scale.floor > 0.0)
        legend.floor_note =
            "Differences up to " + rounded_text(scale.floor) + " are not told apart: noise and misfit reach that far.";
    return legend;
}

}  // namespace tedge::imaging
