#include "registration_colour.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

namespace tedge::imaging {
namespace {

constexpr int sample_tiles = 300;
constexpr double least_shift_px = 0.08;  // smaller ones do no harm
constexpr double standard_errors = 6.0;  // neighbouring tiles share content, so the true ones are about half as many
constexpr std::size_t fewest_tiles = 60;
constexpr double least_agreeing_share = 0.5;

double median(std::vector<double> values) {
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

// Whether the tiles lie beside the map on the whole, all in one direction.
bool shifted(const LevelResult& level, const PixelMap& map) {
    std::vector<double> dx;
    std::vector<double> dy;
    for (std::size_t i = 0; i < level.tiles.size(); ++i) {
        if (level.weights[i] <= 0.0) continue;
        const PointPx at = map.map(level.tiles[i].moving);
        dx.push_back(level.tiles[i].reference.x_px - at.x_px);
        dy.push_back(level.tiles[i].reference.y_px - at.y_px);
    }
    if (dx.size() < fewest_tiles || agreeing_share(level) < least_agreeing_share) return false;
    const double shift_x = median(dx);
    const double shift_y = median(dy);
    std::vector<double> distances;
    for (std::size_t i = 0; i < dx.size(); ++i) distances.push_back(std::hypot(dx[i] - shift_x, dy[i] - shift_y));
    // The median distance of a two-dimensional normal error is 1.18 deviations, and a median is 1.25 times less sure
    // than a mean.
    const double error = median(distances) / 1.18 * 1.25 / std::sqrt(static_cast<double>(dx.size()));
    return std::hypot(shift_x, shift_y) > std::max(least_shift_px, standard_errors * error);
}

// The coarsest level that is read for samples so far apart.
int level_of(double pitch_px) {
    return std::max(0, static_cast<int>(std::floor(std::log2(pitch_px) + 0.25)));
}

}  // namespace

std::optional<LevelResult> match_by_colour(const PictureView& reference, const PictureView& moving, const PixelMap& map,
                                           int workers, const Progress& progress) {
    if (!reference.is_coloured() || !moving.is_coloured()) return std::nullopt;
    LevelPlan plan = plan_levels(reference.size(), moving.size(), map, {}).back();
    const double moving_pitch_px = plan.setup.pitch_px * moving_density(map, moving.size());
    const GrayPyramid warm_reference(reference, workers, progress.part(0.0, 0.2), Plane::warmth,
                                     level_of(plan.setup.pitch_px));
    // The density is that of the middle; perspective may want one level more.
    const GrayPyramid warm_moving(moving, workers, progress.part(0.2, 0.4), Plane::warmth,
                                  level_of(1.5 * moving_pitch_px));
    const int all_tiles = plan.tiles_wanted;
    plan.tiles_wanted = sample_tiles;
    const auto sample = match_level(warm_reference, warm_moving, map, plan, workers, progress.part(0.4, 0.6));
    if (!sample || !shifted(*sample, map)) return std::nullopt;
    plan.tiles_wanted = all_tiles;
    return match_level(warm_reference, warm_moving, map, plan, workers, progress.part(0.6, 1.0));
}

}  // namespace tedge::imaging
