#include "tedge/imaging/difference_regions.hpp"

#include <algorithm>
#include <cmath>

namespace tedge::imaging {
namespace {

constexpr double mm2_in_cm2 = 100.0;
constexpr double longest_edge_mm = 5.0;  // straight on the face is bent in the photograph where canvas or lens bend
constexpr int area_cell_px = 16;
constexpr double least_share_beyond = 0.01;

// Points along an edge, its end left out.
void add_edge(std::vector<PointMm>& out, PointMm from, PointMm to) {
    const double length = std::hypot(to.x_mm - from.x_mm, to.y_mm - from.y_mm);
    const int parts = std::max(1, static_cast<int>(std::ceil(length / longest_edge_mm)));
    for (int i = 0; i < parts; ++i) {
        const double t = static_cast<double>(i) / parts;
        out.push_back({from.x_mm + t * (to.x_mm - from.x_mm), from.y_mm + t * (to.y_mm - from.y_mm)});
    }
}

using Rings = std::vector<std::vector<PointPx>>;

Expected<Rings> rings_in_photo(const Region& region, const Placement& placement) {
    Rings out;
    for (const auto& ring : region.outline().rings) {
        std::vector<PointMm> fine;
        for (std::size_t i = 0; i < ring.size(); ++i) add_edge(fine, ring[i], ring[(i + 1) % ring.size()]);
        auto& pixels = out.emplace_back();
        for (const PointMm& point : fine) {
            const auto pixel = placement.to_photo(point);
            if (!pixel) return pass_on(pixel);
            pixels.push_back(*pixel);
        }
    }
    return out;
}

// Where the rings cross the line through the centres of row y, from left to right.
std::vector<double> crossings(const Rings& rings, double y) {
    std::vector<double> out;
    for (const auto& ring : rings)
        for (std::size_t i = 0; i < ring.size(); ++i) {
            const PointPx& p = ring[i];
            const PointPx& q = ring[(i + 1) % ring.size()];
            if ((p.y_px <= y) == (q.y_px <= y)) continue;
            out.push_back(p.x_px + (y - p.y_px) / (q.y_px - p.y_px) * (q.x_px - p.x_px));
        }
    std::ranges::sort(out);
    return out;
}

int column(double x, int width) {
    return static_cast<int>(std::clamp(std::ceil(x), 0.0, static_cast<double>(width)));
}

// Square millimetres of one pixel there.
double pixel_mm2(const Placement& placement, double x, double y) {
    const PointMm a = placement.to_face({x - 0.5, y - 0.5}), b = placement.to_face({x + 0.5, y - 0.5}),
                  c = placement.to_face({x + 0.5, y + 0.5}), d = placement.to_face({x - 0.5, y + 0.5});
    return std::abs((c.x_mm - a.x_mm) * (d.y_mm - b.y_mm) - (d.x_mm - b.x_mm) * (c.y_mm - a.y_mm)) / 2.0;
}

// The area of the pixels of a mask, by the reason that `gated` gives them.
std::array<double, 1 + reasons_not_counted.size()> areas_mm2(const Raster8& mask, const Raster8& gated,
                                                             const Placement& placement) {
    std::array<double, 1 + reasons_not_counted.size()> out{};
    for (int top = 0; top < mask.height_px(); top += area_cell_px)
        for (int left = 0; left < mask.width_px(); left += area_cell_px) {
            const int bottom = std::min(top + area_cell_px, mask.height_px());
            const int right = std::min(left + area_cell_px, mask.width_px());
            std::array<int, 1 + reasons_not_counted.size()> pixels{};
            for (int y = top; y < bottom; ++y)
                for (int x = left; x < right; ++x)
                    if (mask.at(x, y) != 0) ++pixels[gated.at(x, y)];
            const double each = pixel_mm2(placement, (left + right - 1) / 2.0, (top + bottom - 1) / 2.0);
            for (std::size_t i = 0; i < out.size(); ++i) out[i] += each * pixels[i];
        }
    return out;
}

}  // namespace

Expected<Raster8> region_mask(const Region& region, const Placement& face_from_map, SizePx size) {
    const auto rings = rings_in_photo(region, face_from_map);
    if (!rings) return pass_on(rings);
    Raster8 mask(size.width_px, size.height_px, 1);
    for (int y = 0; y < size.height_px; ++y) {
        const auto across = crossings(*rings, y);
        for (std::size_t i = 0; i + 1 < across.size(); i += 2)
            std::fill(mask.row(y) + column(across[i], size.width_px),
                      mask.row(y) + column(across[i + 1], size.width_px), std::uint8_t{255});
    }
    return mask;
}

Expected<RegionFigures> figures_in(const RasterF& map, const Raster8& gated, const Region& region,
                                   const Placement& face_from_map) {
    auto mask = region_mask(region, face_from_map, map.size());
    if (!mask) return pass_on(mask);
    const auto areas = areas_mm2(*mask, gated, face_from_map);
    RegionFigures out;
    out.area_cm2 = region.area_mm2() / mm2_in_cm2;
    out.counted_cm2 = areas[0] / mm2_in_cm2;
    double seen_cm2 = out.counted_cm2;
    for (std::size_t i = 0; i < reasons_not_counted.size(); ++i) {
        out.left_out_cm2[i] = areas[static_cast<std::size_t>(reasons_not_counted[i])] / mm2_in_cm2;
        seen_cm2 += out.left_out_cm2[i];
    }
    // What is left beyond rounding to whole pixels lies beyond the map.
    if (const double beyond = out.area_cm2 - seen_cm2; beyond > least_share_beyond * out.area_cm2)
        out.left_out_cm2[0] += beyond;
    for (std::size_t i = 0; i < mask->samples().size(); ++i)
        if (gated.samples()[i] != 0) mask->samples()[i] = 0;
    out.figures = statistics_of(map, &*mask);
    return out;
}

}  // namespace tedge::imaging
