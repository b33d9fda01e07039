#include "registration_repeats.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

namespace tedge::imaging {
namespace {

constexpr int largest_side = 256;
constexpr int smallest_side = 128;  // of a narrow picture
constexpr int large_tiles = 16;
constexpr double search_samples = 4.0;  // the map is good to far less than a sample of this size

// A pattern that repeats itself answers at its repeats nearly as loudly as at the true place: strict weaves and figured
// cloths of 5 to 80 repeats across answered there at most 2.2 times as loudly. Paintings answered 3.7 times to 9.5
// times as loudly, in ultraviolet from 1.2 times; measured on made and real photographs.
constexpr double least_distinctness = 2.5;
constexpr double least_distinctness_on_the_whole = 4.0;
constexpr int own_samples = 3;  // of the peak itself

// Empty when there are none.
std::optional<double> middle_of(std::vector<double> values) {
    if (values.empty()) return std::nullopt;
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

std::optional<double> of_agreeing_tiles(const LevelResult& level) {
    std::vector<double> all;
    for (std::size_t i = 0; i < level.tiles.size(); ++i) {
        if (level.weights[i] > 0.0) all.push_back(level.tiles[i].distinctness);
    }
    return middle_of(std::move(all));
}

LevelPlan large_plan(const LaidPair& pair, int side) {
    const SizePx size = pair.reference.size(0);
    const double area = size.width_px * static_cast<double>(size.height_px);
    const double covered = area * overlap_share(pair.map, size, pair.moving.size(0));
    const double pitch = std::exp2(std::max(0.0, std::round(std::log2(std::sqrt(covered) / largest_side))));
    return {{side, pitch, search_samples, pair.style.signal, pair.style.either_sign}, large_tiles};
}

double of_large_tiles(const LaidPair& pair, const Progress& progress) {
    for (int side = largest_side; side >= smallest_side; side /= 2) {
        std::vector<double> all;
        for (const TileMatch& tile :
             match_grid(pair.reference, pair.moving, pair.map, large_plan(pair, side), pair.workers, progress)) {
            if (has_peak(tile)) all.push_back(tile.distinctness);
        }
        if (const auto middle = middle_of(std::move(all))) return *middle;
    }
    return std::numeric_limits<double>::infinity();
}

// The correlation around the peaks of the tiles that lie on the map, averaged.
struct MeanSurface {
    std::vector<double> values;
    int tiles = 0;
};

MeanSurface mean_surface(const LaidPair& pair, LevelPlan plan, const Progress& progress) {
    plan.setup.keep_around = true;
    MeanSurface mean;
    for (const TileMatch& tile : match_grid(pair.reference, pair.moving, pair.map, plan, pair.workers, progress)) {
        if (!has_peak(tile)) continue;
        const PointPx at = pair.map.map(tile.moving);
        if (std::hypot(at.x_px - tile.reference.x_px, at.y_px - tile.reference.y_px) > plan.setup.pitch_px) continue;
        mean.values.resize(tile.around.size());
        for (std::size_t i = 0; i < tile.around.size(); ++i) mean.values[i] += static_cast<double>(tile.around[i]);
        ++mean.tiles;
    }
    for (double& value : mean.values) value /= mean.tiles;
    return mean;
}

// One over the highest value that does not belong to the peak in the middle.
double distinctness_of(const MeanSurface& mean) {
    const int side = static_cast<int>(std::lround(std::sqrt(static_cast<double>(mean.values.size()))));
    const int middle = side / 2;
    double next = 1e-6;
    for (int y = 0; y < side; ++y) {
        for (int x = 0; x < side; ++x) {
            if (std::max(std::abs(x - middle), std::abs(y - middle)) <= own_samples) continue;
            next = std::max(next, mean.values[static_cast<std::size_t>(y * side + x)]);
        }
    }
    return 1.0 / next;
}

// Where light has turned dark into bright here and there, single tiles answer faintly, and chance next to as loudly
// elsewhere, but each elsewhere; a repeat answers at the same place in all.
bool stands_out_on_the_whole(const LaidPair& pair, const Progress& progress) {
    const LevelPlan first = plan_levels(pair.reference.size(0), pair.moving.size(0), pair.map, pair.style).front();
    for (const LevelPlan& plan : {first, large_plan(pair, largest_side), large_plan(pair, smallest_side)}) {
        const MeanSurface mean = mean_surface(pair, plan, progress);
        if (progress.stopped()) return false;
        if (mean.tiles == 0) continue;
        if (distinctness_of(mean) < least_distinctness_on_the_whole) return false;
    }
    return true;
}

}  // namespace

bool repeats_itself(const LevelResult& first, const LaidPair& pair, const Progress& progress) {
    const double distinctness = std::min(of_agreeing_tiles(first).value_or(0.0), of_large_tiles(pair, progress));
    return distinctness < least_distinctness && !stands_out_on_the_whole(pair, progress);
}

}  // namespace tedge::imaging
