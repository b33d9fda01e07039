#include "registration_colour.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

namespace tedge::imaging {
namespace {

constexpr int sample_tiles = 300;
constexpr std::size_t fewest_tiles = 30;
constexpr double least_agreeing_share = 0.5;
constexpr double coarsest_factor = 4.0;  // of the finest pitch
constexpr double tiles_at_least = 50.0;
constexpr int lattice_cells = 12;  // what light does to edges changes slowly over a picture

double median(std::vector<double> values) {
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

struct Shift {
    double length_px = 0.0;
    double error_px = 0.0;  // neighbouring tiles share content, so the true one is about twice as large
    double score = 0.0;     // of the middle tile
};

// How far the tiles lie beside the map on the whole, all in one direction.
std::optional<Shift> shift_of(const LevelResult& level, const PixelMap& map) {
    std::vector<double> dx;
    std::vector<double> dy;
    std::vector<double> scores;
    for (std::size_t i = 0; i < level.tiles.size(); ++i) {
        if (level.weights[i] <= 0.0) continue;
        const PointPx at = map.map(level.tiles[i].moving);
        dx.push_back(level.tiles[i].reference.x_px - at.x_px);
        dy.push_back(level.tiles[i].reference.y_px - at.y_px);
        scores.push_back(level.tiles[i].score);
    }
    if (dx.size() < fewest_tiles || agreeing_share(level) < least_agreeing_share) return std::nullopt;
    const double shift_x = median(dx);
    const double shift_y = median(dy);
    std::vector<double> distances;
    for (std::size_t i = 0; i < dx.size(); ++i) distances.push_back(std::hypot(dx[i] - shift_x, dy[i] - shift_y));
    // The median distance of a two-dimensional normal error is 1.18 deviations, and a median is 1.25 times less sure
    // than a mean.
    const double error = median(distances) / 1.18 * 1.25 / std::sqrt(static_cast<double>(dx.size()));
    return Shift{std::hypot(shift_x, shift_y), error, median(scores)};
}

// The level that is read for samples so far apart.
int level_of(double pitch_px) {
    return std::max(0, static_cast<int>(std::floor(std::log2(pitch_px) + 0.25)));
}

// The finest round with its pitch made coarser while tiles enough remain.
LevelPlan plan_for(const PictureView& reference, const PictureView& moving, const PixelMap& map) {
    LevelPlan plan = plan_levels(reference.size(), moving.size(), map, {}).back();
    plan.lattice_cells = lattice_cells;
    const double covered = overlap_share(map, reference.size(), moving.size()) * reference.size().width_px *
                           static_cast<double>(reference.size().height_px);
    for (double factor = coarsest_factor; factor > 1.0; factor /= 2.0) {
        const double pitch = factor * plan.setup.pitch_px;
        const double apart = nearest_tiles * plan.setup.side * pitch;
        if (covered < tiles_at_least * apart * apart) continue;
        plan.setup.pitch_px = pitch;
        break;
    }
    return plan;
}

}  // namespace

ColourCheck check_by_colour(const PictureView& reference, const PictureView& moving, const PixelMap& map,
                            const ColourRule& rule, int workers, const Progress& progress) {
    if (!reference.is_coloured() || !moving.is_coloured()) return {};
    LevelPlan plan = plan_for(reference, moving, map);
    const double least_shift_px =
        rule.least_shift_samples * plan_levels(reference.size(), moving.size(), map, {}).back().setup.pitch_px;
    const double moving_pitch_px = plan.setup.pitch_px * moving_density(map, moving.size());
    const int level = level_of(plan.setup.pitch_px);
    const GrayPyramid warm_reference(reference, workers, progress.part(0.0, 0.2), Plane::warmth, {level, level});
    // The density is that of the middle; perspective may want one level more or less.
    const GrayPyramid warm_moving(moving, workers, progress.part(0.2, 0.4), Plane::warmth,
                                  {level_of(moving_pitch_px / 1.5), level_of(1.5 * moving_pitch_px)});
    if (progress.stopped()) return {};
    const int all_tiles = plan.tiles_wanted;
    plan.tiles_wanted = sample_tiles;
    const auto sample = match_level(warm_reference, warm_moving, map, plan, workers, progress.part(0.4, 0.6));
    const auto shift = sample ? shift_of(*sample, map) : std::nullopt;
    if (!shift) return {};
    ColourCheck check{std::hypot(shift->length_px, shift->error_px), std::nullopt, least_shift_px, false};
    if (shift->length_px <= std::max(least_shift_px, rule.standard_errors * shift->error_px)) return check;
    check.is_beside = true;
    if (shift->score < rule.least_score) return check;
    plan.tiles_wanted = all_tiles;
    plan.beside_guess = true;
    check.anew = match_level(warm_reference, warm_moving, map, plan, workers, progress.part(0.6, 1.0));
    return check;
}

}  // namespace tedge::imaging
