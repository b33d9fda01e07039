#include "local_mean.hpp"

#include <algorithm>
#include <vector>

namespace tedge::imaging {
namespace {

void add_row(std::vector<double>& sums, const float* row, double sign) {
    for (std::size_t x = 0; x < sums.size(); ++x) sums[x] += sign * static_cast<double>(row[x]);
}

// Means along a row of column sums over `rows` rows.
void mean_along(const std::vector<double>& sums, int radius, int rows, float* out) {
    const int width = static_cast<int>(sums.size());
    double sum = 0.0;
    for (int x = 0; x < std::min(radius, width); ++x) sum += sums[static_cast<std::size_t>(x)];
    for (int x = 0; x < width; ++x) {
        if (x + radius < width) sum += sums[static_cast<std::size_t>(x + radius)];
        if (x - radius - 1 >= 0) sum -= sums[static_cast<std::size_t>(x - radius - 1)];
        const int columns = std::min(width - 1, x + radius) - std::max(0, x - radius) + 1;
        out[x] = static_cast<float>(sum / (static_cast<double>(columns) * rows));
    }
}

}  // namespace

RasterF local_mean(const RasterF& plane, int radius_px) {
    RasterF out(plane.width_px(), plane.height_px(), 1);
    const int height = plane.height_px();
    std::vector<double> sums(static_cast<std::size_t>(plane.width_px()));
    for (int y = 0; y < std::min(radius_px, height); ++y) add_row(sums, plane.row(y), 1.0);
    for (int y = 0; y < height; ++y) {
        if (y + radius_px < height) add_row(sums, plane.row(y + radius_px), 1.0);
        if (y - radius_px - 1 >= 0) add_row(sums, plane.row(y - radius_px - 1), -1.0);
        const int rows = std::min(height - 1, y + radius_px) - std::max(0, y - radius_px) + 1;
        mean_along(sums, radius_px, rows, out.row(y));
    }
    return out;
}

}  // namespace tedge::imaging
