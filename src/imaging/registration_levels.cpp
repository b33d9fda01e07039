#include "registration_levels.hpp"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <numbers>

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

// Tiles around one place lie beside the map by so much more than usual, in squares, and by as many samples.
constexpr double misfit_ratio = 4.0;
constexpr double least_misfit = 0.1;

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
    seen.reach_px = tile.reach_px;
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

// What is left beside a bend that was guessed, under the window of the tile.
FieldObservation left_beside(FieldObservation seen, const PixelMap& guess) {
    if (!guess.displacement) return seen;
    const PointMm bend = mean_under_window(*guess.displacement, seen);
    seen.dx -= bend.x_mm;
    seen.dy -= bend.y_mm;
    return seen;
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

namespace {

double median_of(std::vector<double> values) {
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

}  // namespace

double median_score(const LevelResult& level) {
    std::vector<double> scores;
    for (std::size_t i = 0; i < level.tiles.size(); ++i) {
        if (level.weights[i] > 0.0) scores.push_back(level.tiles[i].score);
    }
    return scores.empty() ? 0.0 : median_of(std::move(scores));
}

std::optional<CommonShift> common_shift(const LevelResult& level, const PixelMap& map) {
    constexpr std::size_t fewest_tiles = 30;
    constexpr double least_agreeing_share = 0.5;
    std::vector<double> dx;
    std::vector<double> dy;
    for (std::size_t i = 0; i < level.tiles.size(); ++i) {
        if (level.weights[i] <= 0.0) continue;
        const PointPx at = map.map(level.tiles[i].moving);
        dx.push_back(level.tiles[i].reference.x_px - at.x_px);
        dy.push_back(level.tiles[i].reference.y_px - at.y_px);
    }
    if (dx.size() < fewest_tiles || agreeing_share(level) < least_agreeing_share) return std::nullopt;
    CommonShift shift{median_of(dx), median_of(dy), 0.0, median_score(level)};
    std::vector<double> distances;
    for (std::size_t i = 0; i < dx.size(); ++i) distances.push_back(std::hypot(dx[i] - shift.x_px, dy[i] - shift.y_px));
    // The median distance of a two-dimensional normal error is 1.18 deviations, and a median is 1.25 times less sure
    // than a mean.
    shift.error_px = median_of(std::move(distances)) / 1.18 * 1.25 / std::sqrt(static_cast<double>(dx.size()));
    return shift;
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

LevelPlan with_smaller_tiles(LevelPlan plan) {
    plan.setup.side /= 2;
    plan.tiles_wanted *= 4;
    plan.lattice_cells *= 2;
    plan.new_homography = false;
    plan.beside_guess = true;
    return plan;
}

LevelPlan with_coarser_samples(LevelPlan plan) {
    plan.setup.pitch_px *= 2.0;
    return plan;
}

namespace {

bool lies_near(PointPx at, const std::vector<PointPx>& places, double most_px) {
    return std::ranges::any_of(places, [&](PointPx place) {
        return std::max(std::abs(place.x_px - at.x_px), std::abs(place.y_px - at.y_px)) <= most_px;
    });
}

// The tiles of one round: where each was looked for and what it answered.
struct Round {
    std::vector<GridTile> grid;
    std::vector<TileMatch> matches;
    double spacing_px = 0.0;
};

Round match_tiles(const GrayPyramid& reference, const GrayPyramid& moving, const PixelMap& guess, const LevelPlan& plan,
                  int workers, const Progress& progress, const std::vector<PointPx>* near = nullptr,
                  double near_px = 0.0) {
    Round round;
    round.spacing_px = spacing_for(plan, overlap_share(guess, reference.size(0), moving.size(0)), reference.size(0));
    round.grid = lay_grid(plan, guess, reference.size(0), moving.size(0), round.spacing_px);
    if (near != nullptr)
        std::erase_if(round.grid, [&](const GridTile& tile) { return !lies_near(tile.centre, *near, near_px); });
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
               const Progress& progress, LevelResult& result, const LevelResult* others = nullptr) {
    const double pitch = plan.setup.pitch_px;
    const int block = std::max(1, static_cast<int>(std::ceil(plan.setup.side * pitch / round.spacing_px - 0.01)));
    std::vector<GridTile> asked;
    std::vector<FieldObservation> found;
    std::vector<std::size_t> found_at;  // index into result.tiles
    for (std::size_t i = 0; i < round.grid.size(); ++i) {
        const TileMatch& match = round.matches[i];
        if (!match.structured) continue;
        FieldObservation seen = observe(match, result.map.homography, pitch);
        if (plan.beside_guess) seen = left_beside(seen, guess);
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
    if (others != nullptr) {
        for (std::size_t i = 0; i < others->tiles.size(); ++i) {
            const FieldObservation seen = left_beside(others->observations[i], guess);
            if (others->weights[i] > 0.0) {
                kept.push_back(seen);
                kept_at.push_back(result.tiles.size());
            }
            result.tiles.push_back(others->tiles[i]);
            result.observations.push_back(seen);
        }
    }
    result.lattice = lattice_over(reference, cells_for(plan, reference, round.spacing_px));
    auto field = fit_robust_field(result.lattice, kept, workers, progress);
    if (!field) return false;
    sharpen(result.lattice, kept, *field);
    result.map.displacement = plan.beside_guess && guess.displacement ? sum_of(*guess.displacement, field->displacement)
                                                                      : field->displacement;
    result.scale = field->scale;
    result.roughness_px = field->roughness_px;
    result.roughness_of = field->roughness_of;
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

// A Hann window in two directions has an equivalent area of a quarter of the tile, 32 × 32 samples of 64 × 64.
double shared_content(const LevelPlan& plan, double spacing_px) {
    const double own = 0.5 * plan.setup.side * plan.setup.pitch_px;
    return std::max(1.0, own * own / (spacing_px * spacing_px));
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
    result.reach_px = window_deviation * plan.setup.side * plan.setup.pitch_px;
    result.shared_content = shared_content(plan, round.spacing_px);
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

std::vector<PointPx> misfits(const LevelResult& level) {
    std::vector<std::size_t> found;
    std::vector<double> squares;
    const double most = 3.0 * level.pitch_px;
    for (std::size_t i = 0; i < level.tiles.size(); ++i) {
        if (!has_peak(level.tiles[i])) continue;
        found.push_back(i);
        squares.push_back(std::pow(std::min(most, level.residuals_px[i]), 2));
    }
    if (found.empty()) return {};
    std::vector<double> sorted = squares;
    const auto middle = sorted.begin() + static_cast<std::ptrdiff_t>(sorted.size() / 2);
    std::nth_element(sorted.begin(), middle, sorted.end());
    const double usual = *middle / std::numbers::ln2;  // the mean of a normal error in two directions
    std::vector<PointPx> places;
    for (std::size_t i = 0; i < found.size(); ++i) {
        const PointPx at = level.tiles[found[i]].reference;
        double sum = 0.0;
        int count = 0;
        for (std::size_t k = 0; k < found.size(); ++k) {
            const PointPx other = level.tiles[found[k]].reference;
            if (std::max(std::abs(other.x_px - at.x_px), std::abs(other.y_px - at.y_px)) > 1.5 * level.spacing_px)
                continue;
            sum += squares[k];
            ++count;
        }
        const double mean = sum / count;
        if (count >= 3 && mean > misfit_ratio * usual && mean > std::pow(least_misfit * level.pitch_px, 2))
            places.push_back(at);
    }
    return places;
}

namespace {

// What was fitted beside a level's map bends beside what bends already. On a lattice half as wide the same bend makes
// second differences a quarter as large; half is taken, for the level smoothed over what is followed now.
void take_in_roughness(const LevelResult& level, LevelResult& result) {
    for (int row = 0; row < result.lattice.rows; ++row) {
        for (int column = 0; column < result.lattice.columns; ++column) {
            const auto nearest = [](double at, double origin, double spacing, int count) {
                return std::clamp(static_cast<int>(std::lround((at - origin) / spacing)), 0, count - 1);
            };
            const FieldLattice& fine = result.lattice;
            const FieldLattice& wide = level.lattice;
            const int c =
                nearest(fine.origin.x_mm + column * fine.spacing, wide.origin.x_mm, wide.spacing, wide.columns);
            const int r = nearest(fine.origin.y_mm + row * fine.spacing, wide.origin.y_mm, wide.spacing, wide.rows);
            double& own = result.roughness_of[static_cast<std::size_t>(row * fine.columns + column)];
            own = std::max(own, 0.5 * level.roughness_of[static_cast<std::size_t>(r * wide.columns + c)]);
        }
    }
}

}  // namespace

std::optional<LevelResult> match_together(const GrayPyramid& reference, const GrayPyramid& moving,
                                          const LevelResult& level, const std::vector<PointPx>& places,
                                          const LevelPlan& plan, int workers, const Progress& progress) {
    const Round round = match_tiles(reference, moving, level.map, plan, workers, progress.part(0.0, 0.6), &places,
                                    2.0 * level.spacing_px);
    if (progress.stopped()) return std::nullopt;
    LevelResult result;
    result.map.homography = level.map.homography;
    result.spacing_px = round.spacing_px;
    result.pitch_px = plan.setup.pitch_px;
    result.reach_px = window_deviation * plan.setup.side * plan.setup.pitch_px;
    // Both kinds of tiles have seen the same places.
    result.shared_content = level.shared_content + shared_content(plan, round.spacing_px);
    progress.at(0.6, "fitting the map");
    if (!fit_level(round, level.map, plan, reference.size(0), workers, progress, result, &level)) return std::nullopt;
    take_in_roughness(level, result);
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
