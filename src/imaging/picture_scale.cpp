#include "tedge/imaging/picture_scale.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>
#include <optional>

namespace tedge::imaging {
namespace {

constexpr double least_px = 20.0;
constexpr double least_ticks = 8.0;
constexpr double least_tick_px = 3.0;
constexpr double search = 0.03;       // either way from what the two points say
constexpr double clear_rhythm = 4.0;  // over the mean of the spectrum beside it
constexpr double sides_apart = 0.02;

// Light along the line, three pixels wide, two samples a pixel; its slow part taken away.
std::vector<double> along(const Raster16& linear, const PointPx& from, const PointPx& to) {
    const double length = std::hypot(to.x_px - from.x_px, to.y_px - from.y_px);
    const double ux = (to.x_px - from.x_px) / length;
    const double uy = (to.y_px - from.y_px) / length;
    const int samples = static_cast<int>(length * 2.0) + 1;
    std::vector<double> out;
    for (int i = 0; i < samples; ++i) {
        double sum = 0.0;
        for (int across = -1; across <= 1; ++across) {
            const double x = from.x_px + ux * i / 2.0 - uy * across;
            const double y = from.y_px + uy * i / 2.0 + ux * across;
            const int x0 = std::clamp(static_cast<int>(std::floor(x)), 0, linear.width_px() - 1);
            const int y0 = std::clamp(static_cast<int>(std::floor(y)), 0, linear.height_px() - 1);
            const int x1 = std::min(x0 + 1, linear.width_px() - 1);  // a strip may be one pixel wide
            const int y1 = std::min(y0 + 1, linear.height_px() - 1);
            const double fx = std::clamp(x - x0, 0.0, 1.0);
            const double fy = std::clamp(y - y0, 0.0, 1.0);
            sum += (1 - fy) * ((1 - fx) * linear.at(x0, y0, 1) + fx * linear.at(x1, y0, 1)) +
                   fy * ((1 - fx) * linear.at(x0, y1, 1) + fx * linear.at(x1, y1, 1));
        }
        out.push_back(std::sqrt(sum));
    }
    return out;
}

// Strength of a rhythm of that many cycles a sample, under a Hann window.
double strength(const std::vector<double>& light, double mean, double cycles) {
    std::complex<double> sum = 0.0;
    const auto n = static_cast<double>(light.size());
    for (std::size_t i = 0; i < light.size(); ++i) {
        const auto at = static_cast<double>(i);
        const double window = 0.5 - 0.5 * std::cos(2.0 * std::numbers::pi * (at + 0.5) / n);
        sum += window * (light[i] - mean) * std::polar(1.0, -2.0 * std::numbers::pi * cycles * at);
    }
    return std::abs(sum);
}

struct Rhythm {
    double cycles = 0.0;
    double height = 0.0;
};

Rhythm strongest(const std::vector<double>& light, double mean, double low, double high, int steps) {
    Rhythm best;
    for (int i = 0; i <= steps; ++i) {
        const double cycles = low + (high - low) * i / steps;
        const double height = strength(light, mean, cycles);
        if (height > best.height) best = {cycles, height};
    }
    return best;
}

// Cycles a sample, or nothing where no ticks show.
std::optional<double> tick_rhythm(const std::vector<double>& light, double expected) {
    double mean = 0.0;
    for (const double v : light) mean += v / static_cast<double>(light.size());
    const Rhythm rough = strongest(light, mean, expected * (1 - search), expected * (1 + search), 60);
    const double step = expected * search / 30.0;
    const Rhythm fine = strongest(light, mean, rough.cycles - step, rough.cycles + step, 200);
    double beside = 0.0;
    constexpr int places = 40;
    for (int i = 0; i < places; ++i) beside += strength(light, mean, expected * (0.55 + 0.3 * i / places)) / places;
    if (!(fine.height > clear_rhythm * beside)) return std::nullopt;  // in a black frame both are nothing
    return fine.cycles;
}

bool holds(const Raster16& linear, const PointPx& p) {
    return p.x_px >= 0 && p.y_px >= 0 && p.x_px <= linear.width_px() - 1 && p.y_px <= linear.height_px() - 1;
}

std::unexpected<Error> no_length() {
    return fail("scale.length", "A length must be more than nothing.", "Give the length in millimetres.");
}

}  // namespace

Expected<PictureScale> scale_from_ruler(const ChartPicture& picture, const PointPx& from, const PointPx& to,
                                        double length_mm, double tick_mm) {
    const double px = std::hypot(to.x_px - from.x_px, to.y_px - from.y_px);
    if (!(length_mm > 0.0) || !(tick_mm > 0.0)) return no_length();
    if (!holds(picture.linear, from) || !holds(picture.linear, to) || !(px >= least_px))
        return fail("scale.points", "The two points lie too near to each other or outside the photograph.",
                    "Point at two marks of the ruler far apart.");
    PictureScale out{.px_per_mm = px / length_mm, .half_range_percent = 100.0 * std::numbers::sqrt2 / px};
    const double ticks = length_mm / tick_mm;
    if (ticks < least_ticks || px / ticks < least_tick_px) return out;
    const auto cycles = tick_rhythm(along(picture.linear, from, to), ticks / (2.0 * px));
    if (!cycles) return out;
    out.px_per_mm = 0.5 / *cycles / tick_mm;
    out.from_ticks = true;
    // A tenth of the width of the spectral line, which is one cycle over the length.
    out.half_range_percent = 100.0 * 0.1 / ticks;
    return out;
}

Expected<PictureScale> scale_from_sides(double width_px, double height_px, const SizeMm& picture) {
    if (!(picture.width_mm > 0.0) || !(picture.height_mm > 0.0) || !(width_px > 0.0) || !(height_px > 0.0))
        return no_length();
    const double across = width_px / picture.width_mm;
    const double down = height_px / picture.height_mm;
    const double mean = 0.5 * (across + down);
    const double apart = std::abs(across - down) / mean;
    if (apart > sides_apart)
        return fail("scale.sides-disagree", "Width and height of the picture give different scales.",
                    "Check the sizes, or photograph square to the picture.");
    return PictureScale{.px_per_mm = mean, .half_range_percent = 50.0 * apart};
}

}  // namespace tedge::imaging
