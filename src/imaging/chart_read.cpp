// What the patches measure, and whether it is a chart at all.
#include <algorithm>
#include <cmath>
#include <opencv2/core.hpp>

#include "chart_place.hpp"
#include "tedge/imaging/chart_reference.hpp"

namespace tedge::imaging {
namespace {

constexpr double inner_share = 0.56;  // of the patch's side that is read: away from blur and bleeding at its edges

bool holds(const std::array<PointPx, 4>& quad, double x, double y) {
    bool left = false;
    bool right = false;
    for (std::size_t i = 0; i < 4; ++i) {
        const PointPx& a = quad[i];
        const PointPx& b = quad[(i + 1) % 4];
        const double turn = (b.x_px - a.x_px) * (y - a.y_px) - (b.y_px - a.y_px) * (x - a.x_px);
        left = left || turn < 0.0;
        right = right || turn > 0.0;
    }
    return !(left && right);
}

struct Sums {
    std::array<double, 3> sum{};
    std::array<double, 3> squares{};
    int pixels = 0;
    int clipped = 0;
    int dark = 0;

    void add(const std::uint16_t* rgb) {
        for (std::size_t c = 0; c < 3; ++c) {
            const double v = rgb[c] / 65535.0;
            sum[c] += v;
            squares[c] += v * v;
        }
        ++pixels;
        clipped += std::max({rgb[0], rgb[1], rgb[2]}) >= clipped_from ? 1 : 0;
        dark += std::min({rgb[0], rgb[1], rgb[2]}) == 0 ? 1 : 0;
    }
};

PatchReading reading_of(const Sums& sums, const std::array<PointPx, 4>& outline) {
    PatchReading out{.outline_px = outline, .pixels = sums.pixels};
    if (sums.pixels == 0) return out;
    const double n = sums.pixels;
    std::array<double, 3> mean{};
    std::array<double, 3> deviation{};
    for (std::size_t c = 0; c < 3; ++c) {
        mean[c] = sums.sum[c] / n;
        deviation[c] = std::sqrt(std::max(0.0, sums.squares[c] / n - mean[c] * mean[c]));
    }
    out.mean = {mean[0], mean[1], mean[2]};
    out.deviation = {deviation[0], deviation[1], deviation[2]};
    out.clipped_share = sums.clipped / n;
    out.dark_share = sums.dark / n;
    return out;
}

PatchReading read_patch(const Raster16& linear, const std::array<PointPx, 4>& quad) {
    const auto [x_min, x_max] = std::ranges::minmax({quad[0].x_px, quad[1].x_px, quad[2].x_px, quad[3].x_px});
    const auto [y_min, y_max] = std::ranges::minmax({quad[0].y_px, quad[1].y_px, quad[2].y_px, quad[3].y_px});
    Sums sums;
    const int last_y = std::min(linear.height_px() - 1, static_cast<int>(std::floor(y_max)));
    const int last_x = std::min(linear.width_px() - 1, static_cast<int>(std::floor(x_max)));
    for (int y = std::max(0, static_cast<int>(std::ceil(y_min))); y <= last_y; ++y)
        for (int x = std::max(0, static_cast<int>(std::ceil(x_min))); x <= last_x; ++x)
            if (holds(quad, x, y)) sums.add(linear.row(y) + std::ptrdiff_t{3} * x);
    return reading_of(sums, quad);
}

}  // namespace

std::array<PatchReading, chart_patches> read_patches(const ChartPicture& picture, const ChartPlace& place) {
    std::array<PatchReading, chart_patches> out{};
    const double half = 0.5 * inner_share * place.patch_share;
    for (std::size_t patch = 0; patch < chart_patches; ++patch) {
        const PatchCentre centre = patch_centre(patch);
        const auto at = [&](double x, double y) {
            const auto p = place.photo_from_chart.apply(centre.column + x, centre.row + y);
            return PointPx{p[0], p[1]};
        };
        out[patch] = read_patch(picture.linear, {at(-half, -half), at(half, -half), at(half, half), at(-half, half)});
    }
    return out;
}

double unlikeness(const std::array<PatchReading, chart_patches>& patches) {
    const auto& reference = chart_reference(ChartEdition::maker_2005);
    cv::Matx<double, 24, 3> measured;
    cv::Matx<double, 24, 3> wanted;
    for (int i = 0; i < 24; ++i) {
        const auto& patch = patches[static_cast<std::size_t>(i)];
        const Xyz xyz = xyz_from_lab(reference.lab[static_cast<std::size_t>(i)]);
        // Weighted as the eye weighs: a percent of a dark patch counts as a percent of a bright one.
        const double weight = 1.0 / (xyz.y + 0.05);
        measured(i, 0) = patch.mean.r * weight;
        measured(i, 1) = patch.mean.g * weight;
        measured(i, 2) = patch.mean.b * weight;
        wanted(i, 0) = xyz.x * weight;
        wanted(i, 1) = xyz.y * weight;
        wanted(i, 2) = xyz.z * weight;
    }
    cv::Matx33d matrix;
    if (!cv::solve(measured, wanted, matrix, cv::DECOMP_SVD)) return 1.0;
    const auto left = measured * matrix - wanted;
    cv::Matx<double, 1, 3> mean = cv::Matx<double, 1, 3>::zeros();
    for (int i = 0; i < 24; ++i) mean += wanted.row(i) * (1.0 / 24.0);
    double spread = 0.0;
    for (int i = 0; i < 24; ++i) spread += std::pow(cv::norm(wanted.row(i) - mean), 2);
    return std::sqrt(cv::norm(left, cv::NORM_L2SQR) / spread);
}

}  // namespace tedge::imaging
