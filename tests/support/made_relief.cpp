#include "made_relief.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "painted_pair.hpp"
#include "tedge/imaging/colour.hpp"

namespace tedge::test_support {
namespace {

// Slope along x of a raised rim around a hollow: r² (1 − r²)² within the radius.
double slope_x(const std::vector<Cup>& cups, PointMm at) {
    double slope = 0.0;
    for (const Cup& cup : cups) {
        const double dx = (at.x_mm - cup.middle.x_mm) / cup.radius_mm, dy = (at.y_mm - cup.middle.y_mm) / cup.radius_mm;
        const double r2 = dx * dx + dy * dy;
        if (r2 < 1.0)
            slope += cup.height_mm * 6.75 * 2.0 * dx / cup.radius_mm * ((1 - r2) * (1 - r2) - 2.0 * r2 * (1 - r2));
    }
    return slope;
}

}  // namespace

imaging::Raster8 raking(const std::vector<std::vector<Cup>>& cups, double shift_px, std::uint64_t seed, double exposure,
                        double contrast) {
    const PaintedScene scene{.seed = 21, .stroke_px = 50.0};
    const double low = 12.0 * std::numbers::pi / 180.0;
    imaging::Raster8 out(relief_size.width_px, relief_size.height_px, 3);
    for (int y = 0; y < relief_size.height_px; ++y)
        for (int x = 0; x < relief_size.width_px; ++x) {
            const double seen_x = x + shift_px;
            const auto colour = scene.colour({seen_x, double(y)});
            double slope = 0.02 * std::sin(seen_x * 1.1) * std::cos(y * 0.9);  // canvas
            for (const auto& set : cups) slope += slope_x(set, {seen_x * relief_mm_per_px, y * relief_mm_per_px});
            const double shade = std::max(0.05, std::sin(low) - slope * std::cos(low)) / std::sqrt(1.0 + slope * slope);
            // The lamp is nearer to the left.
            const double light = exposure * 2.0 * shade * (1.2 - 0.5 * x / relief_size.width_px);
            for (int c = 0; c < 3; ++c) {
                const double grain = 2.0 * (counted(seed, x, y, static_cast<std::uint64_t>(c)) - 0.5);
                const double value = imaging::srgb_encoded(std::min(
                    1.0, imaging::srgb_decoded(0.35 + contrast * colour[static_cast<std::size_t>(c)]) * light));
                out.at(x, y, c) =
                    static_cast<std::uint8_t>(std::clamp(std::lround(255.0 * value + 3.0 * grain), 0L, 255L));
            }
        }
    return out;
}

}  // namespace tedge::test_support
