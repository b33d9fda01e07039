#include "registration_colour.hpp"

#include <algorithm>
#include <cmath>

namespace tedge::imaging {
namespace {

constexpr int sample_tiles = 300;
constexpr double coarsest_factor = 4.0;  // of the finest pitch
constexpr double tiles_at_least = 50.0;
constexpr int lattice_cells = 12;  // what light does to edges changes slowly over a picture

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
    const auto shift = sample ? common_shift(*sample, map) : std::nullopt;
    if (!shift) return {};
    ColourCheck check{std::hypot(shift->length_px(), shift->error_px), std::nullopt, least_shift_px, false};
    if (shift->length_px() <= std::max(least_shift_px, rule.standard_errors * shift->error_px)) return check;
    check.is_beside = true;
    if (shift->score < rule.least_score) return check;
    plan.tiles_wanted = all_tiles;
    plan.beside_guess = true;
    check.anew = match_level(warm_reference, warm_moving, map, plan, workers, progress.part(0.6, 1.0));
    return check;
}

}  // namespace tedge::imaging
