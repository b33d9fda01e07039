#include "registration_residuals.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>
#include <vector>

namespace tedge::imaging {
namespace {

constexpr int reach = 3;  // tiles of the grid; the fit has taken what is alike over longer ways
constexpr std::size_t fewest_tiles = 100;

struct Residual {
    double x = 0.0;  // in units of its own deviation
    double y = 0.0;
};

using Grid = std::map<std::pair<int, int>, Residual>;

// By column and row, of the tiles that agree.
Grid residuals_of(const LevelResult& level) {
    Grid grid;
    for (std::size_t i = 0; i < level.tiles.size(); ++i) {
        if (level.weights[i] <= 0.0) continue;
        const FieldObservation& seen = level.observations[i];
        const double information = 0.5 * (seen.information[0] + seen.information[2]) * level.weights[i];
        const double unit = std::sqrt(std::max(0.0, information));
        const PointPx at = level.tiles[i].reference;
        grid[{static_cast<int>(std::lround(at.x_px / level.spacing_px)),
              static_cast<int>(std::lround(at.y_px / level.spacing_px))}] = {unit * level.misfits[i].x_px,
                                                                             unit * level.misfits[i].y_px};
    }
    return grid;
}

// Mean product of residuals so many columns and rows apart.
double mean_product(const Grid& grid, int columns, int rows) {
    double sum = 0.0;
    int count = 0;
    for (const auto& [at, one] : grid) {
        const auto other = grid.find({at.first + columns, at.second + rows});
        if (other == grid.end()) continue;
        sum += one.x * other->second.x + one.y * other->second.y;
        ++count;
    }
    return count > 0 ? sum / count : 0.0;
}

}  // namespace

double alike_neighbours(const LevelResult& level) {
    const Grid grid = residuals_of(level);
    if (grid.size() < fewest_tiles) return 1.0;
    const double own = mean_product(grid, 0, 0);
    if (!(own > 0.0)) return 1.0;
    double alike = 1.0;
    for (int rows = 0; rows <= reach; ++rows) {
        for (int columns = rows == 0 ? 1 : -reach; columns <= reach; ++columns)
            alike += 2.0 * mean_product(grid, columns, rows) / own;  // and those on the other side
    }
    return std::max(1.0, alike);
}

}  // namespace tedge::imaging
