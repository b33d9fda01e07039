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

std::optional<double> of_large_tiles(const LaidPair& pair, const Progress& progress) {
    const SizePx size = pair.reference.size(0);
    const double area = size.width_px * static_cast<double>(size.height_px);
    const double covered = area * overlap_share(pair.map, size, pair.moving.size(0));
    const double pitch = std::exp2(std::max(0.0, std::round(std::log2(std::sqrt(covered) / largest_side))));
    for (int side = largest_side; side >= smallest_side; side /= 2) {
        const LevelPlan plan{{side, pitch, search_samples, pair.style.signal, pair.style.either_sign}, large_tiles};
        std::vector<double> all;
        for (const TileMatch& tile : match_grid(pair.reference, pair.moving, pair.map, plan, pair.workers, progress)) {
            if (has_peak(tile)) all.push_back(tile.distinctness);
        }
        if (const auto middle = middle_of(std::move(all))) return middle;
    }
    return std::nullopt;
}

}  // namespace

double distinctness(const LevelResult& first, const LaidPair& pair, const Progress& progress) {
    const double of_first = of_agreeing_tiles(first).value_or(0.0);
    return std::min(of_first, of_large_tiles(pair, progress).value_or(std::numeric_limits<double>::infinity()));
}

}  // namespace tedge::imaging
