#include "crack_profile.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace tedge::imaging {
namespace {

constexpr int smoothing_px = 3;        // to either side along the path
constexpr double step_px = 0.25;       // across it
constexpr double off_middle_px = 1.5;  // as far as the darkest point may lie from the thinned line

double sample(const Raster8& gray, PointPx at) {
    const double x = std::clamp(at.x_px, 0.0, gray.width_px() - 1.0);
    const double y = std::clamp(at.y_px, 0.0, gray.height_px() - 1.0);
    const int i = static_cast<int>(x);
    const int j = static_cast<int>(y);
    const int right = std::min(i + 1, gray.width_px() - 1);
    const int below = std::min(j + 1, gray.height_px() - 1);
    const double f = x - i;
    const double g = y - j;
    return (1 - g) * ((1 - f) * gray.at(i, j) + f * gray.at(right, j)) +
           g * ((1 - f) * gray.at(i, below) + f * gray.at(right, below));
}

PointPx along(PointPx from, PointPx direction, double by) {
    return {from.x_px + by * direction.x_px, from.y_px + by * direction.y_px};
}

// A picture's values across a path: middle, and what lies on both sides.
struct Across {
    const Raster8& gray;
    PointPx at;
    PointPx unit;

    [[nodiscard]] double value(double off) const { return sample(gray, along(at, unit, off)); }

    [[nodiscard]] double darkest_off() const {
        double best = 0.0;
        for (double off = -off_middle_px; off <= off_middle_px; off += step_px)
            if (value(off) < value(best) - 1e-9) best = off;
        return best;
    }

    // The top of the rise that begins in the middle: it ends where it falls again by a fifth of what it rose.
    [[nodiscard]] double shoulder(double middle, double direction, double reach) const {
        const double floor = value(middle);
        double top = floor;
        for (double off = step_px; off <= reach; off += step_px) {
            const double here = value(middle + direction * off);
            if (here < top - std::max(2.0, 0.2 * (top - floor))) break;
            top = std::max(top, here);
        }
        return top;
    }

    [[nodiscard]] double until(double level, double middle, double direction, double reach) const {
        double before = value(middle);
        for (double off = step_px; off <= reach; off += step_px) {
            const double here = value(middle + direction * off);
            if (here >= level) return off - step_px * (here - level) / std::max(1e-9, here - before);
            before = here;
        }
        return reach;
    }
};

CrackPixel measured(const Across& across, PixelXY at, double widest_px) {
    const double middle = across.darkest_off();
    const double reach = widest_px / 2 + 2;
    const double floor = across.value(middle);
    const double depth = std::min(across.shoulder(middle, 1.0, reach), across.shoulder(middle, -1.0, reach)) - floor;
    const double half = floor + depth / 2;
    const double width = across.until(half, middle, 1.0, reach) + across.until(half, middle, -1.0, reach);
    return {at, static_cast<float>(depth > 0 ? width : 0.0), static_cast<float>(std::max(0.0, depth))};
}

}  // namespace

std::vector<PointPx> smoothed(const std::vector<PixelXY>& pixels) {
    std::vector<PointPx> out;
    const auto last = static_cast<int>(pixels.size()) - 1;
    for (int i = 0; i <= last; ++i) {
        const int reach = std::min({smoothing_px, i, last - i});
        PointPx sum;
        for (int j = i - reach; j <= i + reach; ++j) {
            sum.x_px += pixels[static_cast<std::size_t>(j)].x;
            sum.y_px += pixels[static_cast<std::size_t>(j)].y;
        }
        out.push_back({sum.x_px / (2 * reach + 1), sum.y_px / (2 * reach + 1)});
    }
    return out;
}

PointPx unit_across(const std::vector<PointPx>& line, std::size_t i) {
    const PointPx before = line[i < 2 ? 0 : i - 2];
    const PointPx after = line[std::min(i + 2, line.size() - 1)];
    const double length = std::hypot(after.x_px - before.x_px, after.y_px - before.y_px);
    if (length < 1e-9) return {0.0, 1.0};
    return {-(after.y_px - before.y_px) / length, (after.x_px - before.x_px) / length};
}

Crack profiled(const Raster8& gray, const SkeletonPath& path, double widest_px) {
    Crack out;
    const auto line = smoothed(path.pixels);
    for (std::size_t i = 0; i < line.size(); ++i) {
        out.pixels.push_back(measured({gray, line[i], unit_across(line, i)}, path.pixels[i], widest_px));
        if (i > 0) out.length_px += std::hypot(line[i].x_px - line[i - 1].x_px, line[i].y_px - line[i - 1].y_px);
    }
    return out;
}

}  // namespace tedge::imaging
