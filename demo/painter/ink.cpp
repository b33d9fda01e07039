#include "ink.hpp"

#include <algorithm>
#include <cmath>

namespace tedge::painter {
namespace {

struct Window {
    int left, top, right, bottom;
};

Window window_of(const Grid& grid, double left, double top, double right, double bottom) {
    const auto low = [&](double mm) { return std::max(0, static_cast<int>(std::floor(mm * grid.px_per_mm - 1.0))); };
    const auto high = [&](double mm, int count) {
        return std::min(count - 1, static_cast<int>(std::ceil(mm * grid.px_per_mm + 1.0)));
    };
    return {low(left), low(top), high(right, grid.width_px), high(bottom, grid.height_px)};
}

Window window_of(const Grid& grid, const Line& ring) {
    double left = 1e9, top = 1e9, right = -1e9, bottom = -1e9;
    for (const PointMm& p : ring) {
        left = std::min(left, p.x_mm);
        right = std::max(right, p.x_mm);
        top = std::min(top, p.y_mm);
        bottom = std::max(bottom, p.y_mm);
    }
    return window_of(grid, left, top, right, bottom);
}

void strengthen(Mask& mask, int x, int y, double value) {
    const auto stored = static_cast<std::uint8_t>(std::lround(std::clamp(value, 0.0, 1.0) * 255.0));
    std::uint8_t& there = mask.cover.at(x, y);
    there = std::max(there, stored);
}

double distance(const PointMm& a, const PointMm& b, double x, double y) {
    const double dx = b.x_mm - a.x_mm;
    const double dy = b.y_mm - a.y_mm;
    const double length2 = dx * dx + dy * dy;
    const double t = length2 > 0.0 ? std::clamp(((x - a.x_mm) * dx + (y - a.y_mm) * dy) / length2, 0.0, 1.0) : 0.0;
    return std::hypot(x - a.x_mm - t * dx, y - a.y_mm - t * dy);
}

void draw_segment(Mask& mask, const PointMm& a, const PointMm& b, double width_mm, double strength) {
    const Grid& grid = mask.grid;
    const double half = 0.5 * width_mm;
    const double sample = 1.0 / grid.px_per_mm;
    const double thin = std::min(1.0, width_mm * grid.px_per_mm);
    const double reach = std::max(half, 0.5 * sample) + 0.5 * sample;
    const Window w = window_of(grid, std::min(a.x_mm, b.x_mm) - reach, std::min(a.y_mm, b.y_mm) - reach,
                               std::max(a.x_mm, b.x_mm) + reach, std::max(a.y_mm, b.y_mm) + reach);
    for (int y = w.top; y <= w.bottom; ++y)
        for (int x = w.left; x <= w.right; ++x) {
            const double d = distance(a, b, static_cast<double>(grid.mm(x)), static_cast<double>(grid.mm(y)));
            if (d < reach) strengthen(mask, x, y, strength * thin * std::min(1.0, (reach - d) * grid.px_per_mm));
        }
}

double depth_inside(const Line& ring, double x, double y) {
    double nearest = 1e9;
    for (std::size_t i = 0, j = ring.size() - 1; i < ring.size(); j = i++)
        nearest = std::min(nearest, distance(ring[j], ring[i], x, y));
    return nearest;
}

}  // namespace

bool within(const Line& ring, double x, double y) {
    bool in = false;
    for (std::size_t i = 0, j = ring.size() - 1; i < ring.size(); j = i++) {
        const PointMm& a = ring[i];
        const PointMm& b = ring[j];
        if ((a.y_mm > y) != (b.y_mm > y) && x < (b.x_mm - a.x_mm) * (y - a.y_mm) / (b.y_mm - a.y_mm) + a.x_mm) in = !in;
    }
    return in;
}

void draw_line(Mask& mask, const Line& line, double width_mm, double strength) {
    for (std::size_t i = 1; i < line.size(); ++i) draw_segment(mask, line[i - 1], line[i], width_mm, strength);
}

void fill_shape(Mask& mask, const Line& ring, double strength) {
    const Window w = window_of(mask.grid, ring);
    const double quarter = 0.25 / mask.grid.px_per_mm;
    for (int y = w.top; y <= w.bottom; ++y)
        for (int x = w.left; x <= w.right; ++x) {
            int hits = 0;
            for (int sub = 0; sub < 16; ++sub) {
                const double dx = (static_cast<double>(sub % 4) - 1.5) * quarter;
                const double dy = (static_cast<double>(sub / 4) - 1.5) * quarter;
                hits +=
                    within(ring, static_cast<double>(mask.grid.mm(x)) + dx, static_cast<double>(mask.grid.mm(y)) + dy)
                        ? 1
                        : 0;
            }
            if (hits > 0) strengthen(mask, x, y, strength * hits / 16.0);
        }
}

void fill_softly(Mask& mask, const Line& ring, double feather_mm, double strength) {
    const Window w = window_of(mask.grid, ring);
    for (int y = w.top; y <= w.bottom; ++y)
        for (int x = w.left; x <= w.right; ++x) {
            const auto px = static_cast<double>(mask.grid.mm(x));
            const auto py = static_cast<double>(mask.grid.mm(y));
            if (within(ring, px, py))
                strengthen(mask, x, y, strength * std::min(1.0, depth_inside(ring, px, py) / feather_mm));
        }
}

}  // namespace tedge::painter
