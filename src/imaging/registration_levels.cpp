#include "registration_levels.hpp"

#include <algorithm>
#include <cmath>

#include "feature_match.hpp"
#include "registration_workers.hpp"

namespace tedge::imaging {
namespace {

// A peak this many deviations above the correlation around it is worth asking its neighbours about.
constexpr double least_significance = 4.0;
// Residuals within this many samples count as agreement: beyond it a peak belongs to other content.
constexpr double agreement_samples = 1.0;
// Not even a perfect tile is trusted beyond this, in samples: interpolation and the pictures' own grids.
constexpr double best_deviation_samples = 0.02;

// The displacement of a canvas or a lens changes by no more than this share of the way.
constexpr double steepest_slope = 0.03;

struct GridTile {
    int column;
    int row;
    PointPx centre;
    LocalMap guess;
};

bool inside(PointPx point, SizePx size) {
    return point.x_px >= 0.0 && point.y_px >= 0.0 && point.x_px <= size.width_px - 1 &&
           point.y_px <= size.height_px - 1;
}

double spacing_for(const LevelPlan& plan, double overlap, SizePx reference) {
    const double area = overlap * reference.width_px * static_cast<double>(reference.height_px);
    const double tile = plan.setup.side * plan.setup.pitch_px;
    // Tiles nearer than three eighths of their side say the same thing twice.
    return std::clamp(std::sqrt(area / plan.tiles_wanted), 0.375 * tile, 4.0 * tile);
}

std::vector<GridTile> lay_grid(const LevelPlan& plan, const PixelMap& guess, SizePx reference, SizePx moving,
                               double spacing) {
    const double half = 0.5 * plan.setup.side * plan.setup.pitch_px;
    // Out to the very edge: a tile there looks at the half of it that lies inside.
    const auto count = [&](int side) { return std::max(1, static_cast<int>((side - 1) / spacing) + 1); };
    const int columns = count(reference.width_px);
    const int rows = count(reference.height_px);
    const auto position = [&](int index, int many, int side) {
        return 0.5 * (side - 1) + (index - 0.5 * (many - 1)) * spacing;
    };
    std::vector<GridTile> grid;
    for (int row = 0; row < rows; ++row) {
        for (int column = 0; column < columns; ++column) {
            const PointPx centre = aligned_centre(
                plan.setup, {position(column, columns, reference.width_px), position(row, rows, reference.height_px)});
            const auto at = local_map(guess, centre, 0.5 * half);
            if (at && inside(at->moving, moving)) grid.push_back({column, row, centre, *at});
        }
    }
    return grid;
}

FieldObservation observe(const TileMatch& tile, const Homography& homography, double pitch) {
    const auto q = homography.apply(tile.moving.x_px, tile.moving.y_px);
    FieldObservation seen{{q[0], q[1]}, tile.reference.x_px - q[0], tile.reference.y_px - q[1], tile.information};
    // (information⁻¹ + floor²·1)⁻¹ without inverting a matrix that may be singular: W (1 + floor² W)⁻¹.
    const double floor = best_deviation_samples * pitch;
    const double f = floor * floor;
    const auto& w = tile.information;
    const double determinant = w[0] * w[2] - w[1] * w[1];
    const double divisor = 1.0 + f * (w[0] + w[2]) + f * f * determinant;
    seen.information = {(w[0] + f * determinant) / divisor, w[1] / divisor, (w[2] + f * determinant) / divisor};
    return seen;
}

// A tile whose displacement at least a third of the found tiles around it share.
std::vector<double> supported(const std::vector<GridTile>& grid, const std::vector<FieldObservation>& seen,
                              double tolerance) {
    constexpr int reach = 2;
    std::vector<double> weights(grid.size(), 0.0);
    for (std::size_t i = 0; i < grid.size(); ++i) {
        int around = 0;
        int alike = 0;
        // The grid is in row order, so neighbours lie within a short stretch of the list.
        const auto look = [&](std::size_t k) {
            if (k == i || std::abs(grid[k].column - grid[i].column) > reach) return;
            ++around;
            const double apart = std::hypot(seen[k].at.x_px - seen[i].at.x_px, seen[k].at.y_px - seen[i].at.y_px);
            if (std::hypot(seen[k].dx - seen[i].dx, seen[k].dy - seen[i].dy) < tolerance + steepest_slope * apart)
                ++alike;
        };
        for (std::size_t k = i; k-- > 0 && grid[i].row - grid[k].row <= reach;) look(k);
        for (std::size_t k = i + 1; k < grid.size() && grid[k].row - grid[i].row <= reach; ++k) look(k);
        if (alike >= 3 && 3 * alike >= around) weights[i] = 1.0;
    }
    return weights;
}

}  // namespace

double overlap_share(const PixelMap& map, SizePx reference, SizePx moving) {
    constexpr int steps = 48;
    int covered = 0;
    for (int j = 0; j < steps; ++j) {
        for (int i = 0; i < steps; ++i) {
            const auto at =
                map.inverse({(i + 0.5) / steps * reference.width_px, (j + 0.5) / steps * reference.height_px});
            if (at && inside(*at, moving)) ++covered;
        }
    }
    return covered / static_cast<double>(steps * steps);
}

std::vector<LevelPlan> plan_levels(SizePx reference, SizePx moving, const PixelMap& guess, TileSignal signal) {
    const double overlap = std::max(1e-4, overlap_share(guess, reference, moving));
    // Moving pixels per reference pixel, in the middle of what is covered.
    const auto middle = guess.map({0.5 * moving.width_px, 0.5 * moving.height_px});
    const auto at = local_map(guess, middle, 4.0);
    double density = 1.0;
    if (at) {
        const auto& j = at->moving_per_reference;
        density = std::sqrt(std::abs(j[0] * j[3] - j[1] * j[2]));
    }
    const double finest = std::exp2(std::max(0.0, std::ceil(std::log2(0.75 / std::max(density, 1e-3)))));
    const double extent = std::sqrt(overlap) * std::max(reference.width_px, reference.height_px);
    double pitch = std::max(finest, std::exp2(std::round(std::log2(std::max(1.0, extent / 900.0)))));
    std::vector<LevelPlan> plans;
    plans.push_back({{64, pitch, 10.0, signal}, 500, 6, true});
    while (pitch > finest) {
        pitch = std::max(finest, pitch / 4.0);
        plans.push_back({{64, pitch, 5.0, signal}, 800, 12, false});
    }
    plans.push_back({{64, finest, 4.0, signal}, 1500, 24, false});
    return plans;
}

std::optional<LevelResult> match_level(const GrayPyramid& reference, const GrayPyramid& moving, const PixelMap& guess,
                                       const LevelPlan& plan, int workers, const Progress& progress) {
    const SizePx reference_size = reference.size(0);
    const double pitch = plan.setup.pitch_px;
    const double spacing = spacing_for(plan, overlap_share(guess, reference_size, moving.size(0)), reference_size);
    std::vector<GridTile> grid = lay_grid(plan, guess, reference_size, moving.size(0), spacing);
    std::vector<TileMatch> matches(grid.size());
    std::vector<TileMatcher> matchers(static_cast<std::size_t>(workers), TileMatcher(reference, moving, plan.setup));
    for_each_index(
        static_cast<int>(grid.size()), workers, [&] { return progress.stopped(); },
        [&](int index, int worker) {
            const auto i = static_cast<std::size_t>(index);
            matches[i] = matchers[static_cast<std::size_t>(worker)].match(grid[i].centre, grid[i].guess);
        });
    if (progress.stopped()) return std::nullopt;

    LevelResult result;
    result.map = guess;
    result.map.displacement.reset();
    result.spacing_px = spacing;
    result.pitch_px = pitch;
    std::vector<GridTile> asked;
    std::vector<std::size_t> answer;  // index into result.tiles
    std::vector<PointPair> pairs;
    for (std::size_t i = 0; i < grid.size(); ++i) {
        if (!matches[i].structured) continue;
        if (matches[i].found && matches[i].significance >= least_significance) {
            asked.push_back(grid[i]);
            answer.push_back(result.tiles.size());
            pairs.push_back({matches[i].reference, matches[i].moving});
        }
        result.tiles.push_back(matches[i]);
    }
    if (plan.new_homography) {
        // From where the guess puts them: the sampler refuses mirrored point sets, and a guess has undone the mirror.
        for (PointPair& pair : pairs) {
            const auto q = guess.homography.apply(pair.moving.x_px, pair.moving.y_px);
            pair.moving = {q[0], q[1]};
        }
        const auto anew = robust_homography(pairs, 2.5 * pitch);
        if (!anew) return std::nullopt;
        const auto composed = compose(anew->reference_from_moving, guess.homography);
        if (!composed) return std::nullopt;
        result.map.homography = *composed;
    }
    for (const TileMatch& tile : result.tiles)
        result.observations.push_back(observe(tile, result.map.homography, pitch));
    std::vector<FieldObservation> found;
    for (const std::size_t k : answer) found.push_back(result.observations[k]);
    const std::vector<double> support = supported(asked, found, agreement_samples * pitch);
    std::vector<FieldObservation> kept;
    for (std::size_t i = 0; i < found.size(); ++i) {
        if (support[i] > 0.0) kept.push_back(found[i]);
    }
    // A cell of the lattice holds at least two tiles.
    const double longer = std::max(reference_size.width_px, reference_size.height_px);
    const int cells = std::clamp(static_cast<int>(longer / (1.4 * spacing)), 1, plan.lattice_cells);
    result.lattice = lattice_over(reference_size, cells);
    auto field = fit_robust_field(result.lattice, kept, plan.setup.side * pitch);
    if (!field) return std::nullopt;
    result.map.displacement = field->displacement;

    // Back to all tiles: what the neighbours did not support may still agree with the field, and the other way round.
    result.weights.assign(result.tiles.size(), 0.0);
    result.residuals_px.assign(result.tiles.size(), 0.0);
    std::size_t next_kept = 0;
    std::vector<bool> asked_at(result.tiles.size(), false);
    for (std::size_t i = 0; i < answer.size(); ++i) {
        asked_at[answer[i]] = true;
        if (support[i] > 0.0) result.weights[answer[i]] = field->weights[next_kept++];
    }
    for (std::size_t k = 0; k < result.tiles.size(); ++k) {
        const FieldObservation& seen = result.observations[k];
        const PointMm fitted = result.map.displacement->at({seen.at.x_px, seen.at.y_px});
        result.residuals_px[k] = std::hypot(seen.dx - fitted.x_mm, seen.dy - fitted.y_mm);
        if (!asked_at[k] || result.residuals_px[k] > agreement_samples * pitch) result.weights[k] = 0.0;
    }
    result.scale = field->scale;
    result.roughness_px = field->roughness_px;
    return result;
}

}  // namespace tedge::imaging
