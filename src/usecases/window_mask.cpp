#include "window_mask.hpp"

#include <algorithm>
#include <cmath>

namespace tedge::usecases {

namespace {

using Ring = std::vector<PointPx>;

Expected<std::vector<Ring>> rings_in_photo(const Region& region, const Placement& placement) {
    std::vector<Ring> rings;
    for (const auto& ring : region.outline().rings) {
        Ring out;
        for (const PointMm& corner : ring) {
            const auto there = placement.to_photo(corner);
            if (!there) return pass_on(there);
            out.push_back(*there);
        }
        rings.push_back(std::move(out));
    }
    return rings;
}

// Where the edges of the rings cross the middle of a row, from left to right.
std::vector<double> crossings(const std::vector<Ring>& rings, double y) {
    std::vector<double> at;
    for (const Ring& ring : rings)
        for (std::size_t i = 0; i + 1 < ring.size(); ++i) {
            const PointPx& a = ring[i];
            const PointPx& b = ring[i + 1];
            if ((a.y_px <= y) == (b.y_px <= y)) continue;
            at.push_back(a.x_px + (y - a.y_px) / (b.y_px - a.y_px) * (b.x_px - a.x_px));
        }
    std::ranges::sort(at);
    return at;
}

void fill_row(std::uint8_t* row, int width, const std::vector<double>& at, std::uint8_t number) {
    for (std::size_t i = 0; i + 1 < at.size(); i += 2) {
        const double first = std::clamp(std::ceil(at[i]), 0.0, static_cast<double>(width));
        const double last = std::clamp(std::ceil(at[i + 1]), 0.0, static_cast<double>(width));
        std::fill(row + static_cast<int>(first), row + static_cast<int>(last), number);
    }
}

}  // namespace

Expected<imaging::Raster8> window_mask(const std::vector<Region>& windows, const Placement& face_from_photo,
                                       SizePx photo) {
    constexpr std::size_t most = 255;
    imaging::Raster8 mask(photo.width_px, photo.height_px, 1);
    for (std::size_t i = 0; i < std::min(most, windows.size()); ++i) {
        const auto rings = rings_in_photo(windows[i], face_from_photo);
        if (!rings) return pass_on(rings);
        for (int y = 0; y < photo.height_px; ++y)
            fill_row(mask.row(y), photo.width_px, crossings(*rings, y), static_cast<std::uint8_t>(i + 1));
    }
    return mask;
}

}  // namespace tedge::usecases
