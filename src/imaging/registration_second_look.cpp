#include "registration_second_look.hpp"

#include <cmath>
#include <vector>

namespace tedge::imaging {
namespace {

constexpr int wide_side = 128;
constexpr double far_samples = 36.0;
constexpr int tiles_asked = 300;
constexpr double clearly_beside_samples = 3.0;
constexpr double least_distinctness = 1.3;
// Neighbours that lie elsewhere lie there together.
constexpr double neighbours_within_tiles = 0.8;
constexpr double alike_samples = 2.0;
constexpr double steepest_slope = 0.15;
constexpr int fewest_alike = 3;

struct Wide {
    PointPx at;
    double dx, dy;  // beside the map, pixels of the reference
    [[nodiscard]] double beside_px() const { return std::hypot(dx, dy); }
};

std::vector<Wide> that_stand_out(const LaidPair& pair, const LevelPlan& plan, const Progress& progress) {
    std::vector<Wide> found;
    for (const TileMatch& tile : match_grid(pair.reference, pair.moving, pair.map, plan, pair.workers, progress)) {
        if (!has_peak(tile) || tile.distinctness < least_distinctness) continue;
        const PointPx there = pair.map.map(tile.moving);
        found.push_back({tile.reference, tile.reference.x_px - there.x_px, tile.reference.y_px - there.y_px});
    }
    return found;
}

bool neighbours_lie_alike(const std::vector<Wide>& all, const Wide& one, double pitch) {
    int alike = 0;
    for (const Wide& other : all) {
        const double apart = std::hypot(other.at.x_px - one.at.x_px, other.at.y_px - one.at.y_px);
        if (&other == &one || apart > neighbours_within_tiles * wide_side * pitch) continue;
        if (std::hypot(other.dx - one.dx, other.dy - one.dy) < alike_samples * pitch + steepest_slope * apart) ++alike;
    }
    return alike >= fewest_alike;
}

}  // namespace

double share_that_lies_elsewhere(const LaidPair& pair, const Progress& progress) {
    LevelPlan plan = plan_levels(pair.reference.size(0), pair.moving.size(0), pair.map, pair.style).front();
    plan.setup.side = wide_side;
    plan.setup.search_samples = far_samples;
    plan.tiles_wanted = tiles_asked;
    const double pitch = plan.setup.pitch_px;
    const std::vector<Wide> all = that_stand_out(pair, plan, progress);
    int elsewhere = 0;
    for (const Wide& each : all) {
        if (each.beside_px() > clearly_beside_samples * pitch && neighbours_lie_alike(all, each, pitch)) ++elsewhere;
    }
    return all.empty() ? 0.0 : elsewhere / static_cast<double>(all.size());
}

}  // namespace tedge::imaging
