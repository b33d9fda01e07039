#include "registration_copy.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <opencv2/core.hpp>

namespace tedge::imaging {
namespace {

constexpr double least_bend_share = 0.0006;  // of the longer side
constexpr double least_bend_samples = 0.75;
// Scores below.
constexpr double own_brushwork = 0.7;
constexpr double own_brushwork_in_coarser = 0.75;

constexpr int terms = 10;  // of a cubic in two variables

std::array<double, terms> cubic_at(double x, double y) {
    return {1.0, x, y, x * x, x * y, y * y, x * x * x, x * x * y, x * y * y, y * y * y};
}

// RMS distance of the displacement from the cubic nearest to it, over the tiles that agree.
double bend_px(const LevelResult& level, double longer_px) {
    std::vector<std::array<double, terms>> rows;
    std::vector<std::array<double, 2>> values;
    for (std::size_t i = 0; i < level.tiles.size(); ++i) {
        if (level.weights[i] <= 0.0) continue;
        const PointPx at = level.observations[i].at;
        const PointMm d = level.map.displacement->at({at.x_px, at.y_px});
        rows.push_back(cubic_at(at.x_px / longer_px, at.y_px / longer_px));
        values.push_back({d.x_mm, d.y_mm});
    }
    if (rows.size() < 2 * terms) return 0.0;
    const auto count = static_cast<int>(rows.size());
    const cv::Mat equations(count, terms, CV_64F, rows.data());
    const cv::Mat right(count, 2, CV_64F, values.data());
    cv::Mat cubic;
    if (!cv::solve(equations, right, cubic, cv::DECOMP_SVD)) return 0.0;
    const cv::Mat beside = equations * cubic - right;
    return cv::norm(beside) / std::sqrt(static_cast<double>(count));
}

}  // namespace

bool looks_like_a_copy(const LevelResult& finest, const LevelResult& laid, const LaidPair& pair,
                       const Progress& progress) {
    if (!finest.map.displacement || !laid.map.displacement || median_score(finest) >= own_brushwork) return false;
    const SizePx reference = pair.reference.size(0);
    const double longer = std::max(reference.width_px, reference.height_px);
    if (std::max(bend_px(finest, longer), bend_px(laid, longer)) <=
        std::max(least_bend_share * longer, least_bend_samples * finest.pitch_px))
        return false;
    const LevelPlan plan =
        with_coarser_samples(plan_levels(reference, pair.moving.size(0), pair.map, pair.style).back());
    const auto coarser = match_level(pair.reference, pair.moving, pair.map, plan, pair.workers, progress);
    return !coarser || median_score(*coarser) < own_brushwork_in_coarser;
}

}  // namespace tedge::imaging
