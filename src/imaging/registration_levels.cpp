#include "registration_levels.hpp"

#include <algorithm>
#include <atomic>
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

// Below so small a share of tiles there is nothing to carry on from, above so large a one nothing to gain.
constexpr double worth_carrying_on = 0.1;
constexpr double all_but_all = 0.998;
constexpr double least_gain = 0.002;
constexpr int most_times_carried_on = 8;

struct GridTile {
    int column;
    int row;
    PointPx centre;
    LocalMap guess;
};

double spacing_for(const LevelPlan& plan, double overlap, SizePx reference) {
    const double area = overlap * reference.width_px * static_cast<double>(reference.height_px);
    const double tile = plan.setup.side * plan.setup.pitch_px;
    return std::clamp(std::sqrt(area / plan.tiles_wanted), nearest_tiles * tile, 4.0 * tile);
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

// How far a tile lies beside where it was looked for; beside the plane where no bend was guessed.
PointPx beside(const FieldObservation& seen, const PixelMap& guess) {
    if (!guess.displacement) return {seen.dx, seen.dy};
    const PointMm bend = guess.displacement->at({seen.at.x_px, seen.at.y_px});
    return {seen.dx - bend.x_mm, seen.dy - bend.y_mm};
}

// A tile that lies where at least a third of the found tiles around it lie, beside what was guessed.
std::vector<double> supported(const std::vector<GridTile>& grid, const std::vector<FieldObservation>& seen,
                              const PixelMap& guess, double tolerance) {
    constexpr int reach = 2;
    std::vector<double> weights(grid.size(), 0.0);
    std::vector<PointPx> off;
    for (const FieldObservation& each : seen) off.push_back(beside(each, guess));
    for (std::size_t i = 0; i < grid.size(); ++i) {
        int around = 0;
        int alike = 0;
        // The grid is in row order, so neighbours lie within a short stretch of the list.
        const auto look = [&](std::size_t k) {
            if (k == i || std::abs(grid[k].column - grid[i].column) > reach) return;
            ++around;
            const double apart = std::hypot(seen[k].at.x_px - seen[i].at.x_px, seen[k].at.y_px - seen[i].at.y_px);
            if (std::hypot(off[k].x_px - off[i].x_px, off[k].y_px - off[i].y_px) < tolerance + steepest_slope * apart)
                ++alike;
        };
        for (std::size_t k = i; k-- > 0 && grid[i].row - grid[k].row <= reach;) look(k);
        for (std::size_t k = i + 1; k < grid.size() && grid[k].row - grid[i].row <= reach; ++k) look(k);
        if (alike >= 3 && 3 * alike >= around) weights[i] = 1.0;
    }
    return weights;
}

}  // namespace

bool inside(PointPx point, SizePx size) {
    return point.x_px >= 0.0 && point.y_px >= 0.0 && point.x_px <= size.width_px - 1 &&
           point.y_px <= size.height_px - 1;
}

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

double share_on_reference(const PixelMap& map, SizePx reference, SizePx moving) {
    constexpr int steps = 48;
    int covered = 0;
    for (int j = 0; j < steps; ++j) {
        for (int i = 0; i < steps; ++i) {
            const PointPx at{(i + 0.5) / steps * moving.width_px, (j + 0.5) / steps * moving.height_px};
            if (inside(map.map(at), reference)) ++covered;
        }
    }
    return covered / static_cast<double>(steps * steps);
}

double moving_density(const PixelMap& map, SizePx moving) {
    const auto middle = map.map({0.5 * moving.width_px, 0.5 * moving.height_px});
    const auto at = local_map(map, middle, 4.0);
    if (!at) return 1.0;
    const auto& j = at->moving_per_reference;
    return std::max(1e-3, std::sqrt(std::abs(j[0] * j[3] - j[1] * j[2])));
}

double agreeing_share(const LevelResult& level) {
    if (level.tiles.empty()) return 0.0;
    const auto agreeing = std::ranges::count_if(level.weights, [](double weight) { return weight > 0.0; });
    return static_cast<double>(agreeing) / static_cast<double>(level.tiles.size());
}

double median_score(const LevelResult& level) {
    std::vector<double> scores;
    for (std::size_t i = 0; i < level.tiles.size(); ++i) {
        if (level.weights[i] > 0.0) scores.push_back(level.tiles[i].score);
    }
    if (scores.empty()) return 0.0;
    const auto middle = scores.begin() + static_cast<std::ptrdiff_t>(scores.size() / 2);
    std::nth_element(scores.begin(), middle, scores.end());
    return *middle;
}

std::vector<LevelPlan> plan_levels(SizePx reference, SizePx moving, const PixelMap& guess, TileStyle style) {
    const double overlap = std::max(1e-4, overlap_share(guess, reference, moving));
    const double finest = std::exp2(std::max(0.0, std::ceil(std::log2(0.75 / moving_density(guess, moving)))));
    const double extent = std::sqrt(overlap) * std::max(reference.width_px, reference.height_px);
    double pitch = std::max(finest, std::exp2(std::round(std::log2(std::max(1.0, extent / 900.0)))));
    const auto setup = [&](double search) { return TileSetup{64, pitch, search, style.signal, style.either_sign}; };
    std::vector<LevelPlan> plans;
    plans.push_back({setup(10.0), 500, 10, true});
    while (pitch > 2.0 * finest) {
        pitch = std::max(2.0 * finest, pitch / 4.0);
        plans.push_back({setup(5.0), 600, 12, false});
    }
    pitch = finest;
    plans.push_back({setup(4.0), 1500, 24, false});
    return plans;
}

LevelPlan with_coarser_samples(LevelPlan plan) {
    plan.setup.pitch_px *= 2.0;
    return plan;
}

namespace {

// The tiles of one round: where each was looked for and what it answered.
struct Round {
    std::vector<GridTile> grid;
    std::vector<TileMatch> matches;
    double spacing_px = 0.0;
};

Round match_tiles(const GrayPyramid& reference, const GrayPyramid& moving, const PixelMap& guess, const LevelPlan& plan,
                  int workers, const Progress& progress) {
    Round round;
    round.spacing_px = spacing_for(plan, overlap_share(guess, reference.size(0), moving.size(0)), reference.size(0));
    round.grid = lay_grid(plan, guess, reference.size(0), moving.size(0), round.spacing_px);
    round.matches.resize(round.grid.size());
    std::atomic<std::size_t> done{0};
    std::vector<TileMatcher> matchers(static_cast<std::size_t>(workers), TileMatcher(reference, moving, plan.setup));
    for_each_index(
        static_cast<int>(round.grid.size()), workers, [&] { return progress.stopped(); },
        [&](int index, int worker) {
            const auto i = static_cast<std::size_t>(index);
            round.matches[i] =
                matchers[static_cast<std::size_t>(worker)].match(round.grid[i].centre, round.grid[i].guess);
            const std::size_t finished = ++done;
            if (worker == 0)
                progress.at(static_cast<double>(finished) / static_cast<double>(round.grid.size()), "matching tiles");
        });
    return round;
}

// The homography that most tiles agree on.
std::optional<Homography> homography_of_tiles(const Round& round, const Homography& guess, double pitch) {
    std::vector<PointPair> pairs;
    for (const TileMatch& match : round.matches) {
        if (!has_peak(match)) continue;
        // From where the guess puts them: the sampler refuses mirrored point sets, and a guess has undone the mirror.
        const auto q = guess.apply(match.moving.x_px, match.moving.y_px);
        pairs.push_back({match.reference, {q[0], q[1]}});
    }
    const auto anew = robust_homography(pairs, 2.5 * pitch);
    if (!anew) return std::nullopt;
    const auto composed = compose(anew->reference_from_moving, guess);
    if (!composed) return std::nullopt;
    return *composed;
}

// Lattice cells along the longer side: a cell holds at least two tiles.
int cells_for(const LevelPlan& plan, SizePx reference, double spacing) {
    const double longer = std::max(reference.width_px, reference.height_px);
    return std::clamp(static_cast<int>(longer / (1.4 * spacing)), 1, plan.lattice_cells);
}

// On the finer of the two lattices.
BsplineDisplacement sum_of(const BsplineDisplacement& one, const BsplineDisplacement& other) {
    const BsplineDisplacement& finer = one.spacing_mm() < other.spacing_mm() ? one : other;
    auto sum = BsplineDisplacement::through(finer.origin(), finer.spacing_mm(), finer.columns(), finer.rows(),
                                            [&](PointMm knot) {
                                                const PointMm a = one.at(knot);
                                                const PointMm b = other.at(knot);
                                                return PointMm{a.x_mm + b.x_mm, a.y_mm + b.y_mm};
                                            });
    return sum ? *std::move(sum) : other;
}

// Fits the field to the tiles whose neighbours support them, then asks all tiles again whether they agree with it.
bool fit_level(const Round& round, const PixelMap& guess, const LevelPlan& plan, SizePx reference, int workers,
               const Progress& progress, LevelResult& result) {
    const double pitch = plan.setup.pitch_px;
    const int block = std::max(1, static_cast<int>(std::ceil(plan.setup.side * pitch / round.spacing_px - 0.01)));
    std::vector<GridTile> asked;
    std::vector<FieldObservation> found;
    std::vector<std::size_t> found_at;  // index into result.tiles
    for (std::size_t i = 0; i < round.grid.size(); ++i) {
        const TileMatch& match = round.matches[i];
        if (!match.structured) continue;
        FieldObservation seen = observe(match, result.map.homography, pitch);
        if (plan.beside_guess) {
            const PointPx off = beside(seen, guess);
            seen.dx = off.x_px;
            seen.dy = off.y_px;
        }
        seen.fold = (round.grid[i].column / block + round.grid[i].row / block) % 2;
        if (has_peak(match)) {
            asked.push_back(round.grid[i]);
            found.push_back(seen);
            found_at.push_back(result.tiles.size());
        }
        result.tiles.push_back(match);
        result.observations.push_back(seen);
    }
    const PixelMap supposed{guess.homography, plan.beside_guess ? std::nullopt : guess.displacement};
    const std::vector<double> support = supported(asked, found, supposed, agreement_samples * pitch);
    std::vector<FieldObservation> kept;
    std::vector<std::size_t> kept_at;
    for (std::size_t i = 0; i < found.size(); ++i) {
        if (support[i] <= 0.0) continue;
        kept.push_back(found[i]);
        kept_at.push_back(found_at[i]);
    }
    result.lattice = lattice_over(reference, cells_for(plan, reference, round.spacing_px));
    const auto field = fit_robust_field(result.lattice, kept, workers, progress);
    if (!field) return false;
    result.map.displacement = plan.beside_guess && guess.displacement ? sum_of(*guess.displacement, field->displacement)
                                                                      : field->displacement;
    result.scale = field->scale;
    result.roughness_px = field->roughness_px;
    result.weights.assign(result.tiles.size(), 0.0);
    for (std::size_t i = 0; i < kept.size(); ++i) result.weights[kept_at[i]] = field->weights[i];
    for (std::size_t k = 0; k < result.tiles.size(); ++k) {
        const FieldObservation& seen = result.observations[k];
        const PointMm fitted = field->displacement.at({seen.at.x_px, seen.at.y_px});
        result.residuals_px.push_back(std::hypot(seen.dx - fitted.x_mm, seen.dy - fitted.y_mm));
        if (result.residuals_px[k] > agreement_samples * pitch) result.weights[k] = 0.0;
    }
    return true;
}

}  // namespace

bool has_peak(const TileMatch& match) {
    return match.structured && match.found && match.significance >= least_significance;
}

std::vector<TileMatch> match_grid(const GrayPyramid& reference, const GrayPyramid& moving, const PixelMap& guess,
                                  const LevelPlan& plan, int workers, const Progress& progress) {
    return match_tiles(reference, moving, guess, plan, workers, progress).matches;
}

std::optional<LevelResult> match_level(const GrayPyramid& reference, const GrayPyramid& moving, const PixelMap& guess,
                                       const LevelPlan& plan, int workers, const Progress& progress) {
    const Round round = match_tiles(reference, moving, guess, plan, workers, progress.part(0.0, 0.8));
    if (progress.stopped()) return std::nullopt;
    LevelResult result;
    result.map.homography = guess.homography;
    result.spacing_px = round.spacing_px;
    result.pitch_px = plan.setup.pitch_px;
    if (plan.new_homography) {
        const auto anew = homography_of_tiles(round, guess.homography, plan.setup.pitch_px);
        if (!anew) return std::nullopt;
        result.map.homography = *anew;
    }
    progress.at(0.8, "fitting the map");
    // A homography fitted anew leaves a bend that was guessed beside the old one where it was.
    const PixelMap from{result.map.homography, plan.new_homography ? std::nullopt : guess.displacement};
    if (!fit_level(round, from, plan, reference.size(0), workers, progress, result)) return std::nullopt;
    return result;
}

LevelResult carried_on(const GrayPyramid& reference, const GrayPyramid& moving, LevelResult level, LevelPlan plan,
                       int workers, const Progress& progress) {
    plan.new_homography = false;
    for (int round = 0; round < most_times_carried_on && !progress.stopped(); ++round) {
        const double share = agreeing_share(level);
        if (share < worth_carrying_on || share > all_but_all) break;
        auto next = match_level(reference, moving, level.map, plan, workers, progress);
        if (!next || agreeing_share(*next) <= share) break;
        level = *std::move(next);
        if (agreeing_share(level) < share + least_gain) break;
    }
    return level;
}

}  // namespace tedge::imaging
