#include "crack_response.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "registration_clones.hpp"
#include "registration_workers.hpp"

namespace tedge::imaging {
namespace {

constexpr int half_length = 7;  // of the short straight piece
constexpr std::size_t half_steps = half_length + 1;
constexpr double flank_px = 2.0;  // from its middle to the paint on either side: cracks are sharp, brush strokes not
constexpr int spare = 3;          // around a band of means: the flank and its neighbour
constexpr int directions = 16;
constexpr int margin = half_length + spare;
// A tile and its means stay in the processor's cache.
constexpr int rows_in_tile = 32;
constexpr int columns_in_tile = 512;

struct Step {
    int dx = 0;
    int dy = 0;
};

Step rounded(double x, double y) {
    return {static_cast<int>(std::lround(x)), static_cast<int>(std::lround(y))};
}

// The pixels of a short straight piece, in two halves, and how far its sides lie.
struct Direction {
    std::array<Step, half_steps> before{};
    std::array<Step, half_steps> after{};
    double side_x = 0.0;
    double side_y = 0.0;
};

std::vector<Direction> all_directions() {
    std::vector<Direction> out;
    for (int i = 0; i < directions; ++i) {
        const double angle = std::numbers::pi * i / directions;
        Direction one;
        for (int t = 0; t <= half_length; ++t) {
            const auto step = static_cast<std::size_t>(t);
            one.after[step] = rounded(t * std::cos(angle), t * std::sin(angle));
            one.before[step] = rounded(-t * std::cos(angle), -t * std::sin(angle));
        }
        one.side_x = -flank_px * std::sin(angle);
        one.side_y = flank_px * std::cos(angle);
        out.push_back(std::move(one));
    }
    return out;
}

// Floats of a tile with a margin all round; (0, 0) is the tile's first pixel.
class Plane {
public:
    Plane() : samples_(static_cast<std::size_t>(stride) * static_cast<std::size_t>(rows_in_tile + 2 * margin)) {}
    float* row(int y) { return samples_.data() + static_cast<std::ptrdiff_t>(y + margin) * stride + margin; }

private:
    static constexpr int stride = columns_in_tile + 2 * margin;
    std::vector<float> samples_;
};

// What a thread needs for one tile.
struct Work {
    Plane smooth;
    Plane before;
    Plane after;
    Plane best;
};

struct Tile {
    int left = 0;
    int top = 0;
    int width = 0;
    int height = 0;
};

// Averaged over 1 2 1 both ways: a line of one pixel then answers alike wherever it falls on the grid.
void smooth_tile(const Raster8& gray, const Tile& tile, Plane& out) {
    const int w = gray.width_px();
    const int h = gray.height_px();
    const auto clamped = [](int at, int size) { return std::clamp(at, 0, size - 1); };
    for (int y = -margin; y < tile.height + margin; ++y) {
        const std::uint8_t* above = gray.row(clamped(tile.top + y - 1, h));
        const std::uint8_t* here = gray.row(clamped(tile.top + y, h));
        const std::uint8_t* below = gray.row(clamped(tile.top + y + 1, h));
        const auto column = [&](int x) {
            const int at = clamped(tile.left + x, w);
            return above[at] + 2 * here[at] + below[at];
        };
        float* to = out.row(y);
        for (int x = -margin; x < tile.width + margin; ++x)
            to[x] = static_cast<float>(column(x - 1) + 2 * column(x) + column(x + 1)) / 16.0F;
    }
}

TEDGE_CLONES void mean_of_rows(const std::array<const float*, half_steps>& rows, int width, float* out) {
    static_assert(half_steps == 8);
    const float* const a = rows[0];
    const float* const b = rows[1];
    const float* const c = rows[2];
    const float* const d = rows[3];
    const float* const e = rows[4];
    const float* const f = rows[5];
    const float* const g = rows[6];
    const float* const h = rows[7];
    for (int x = 0; x < width; ++x)
        out[x] = 0.125F * (((a[x] + b[x]) + (c[x] + d[x])) + ((e[x] + f[x]) + (g[x] + h[x])));
}

void mean_along(Plane& smooth, const std::array<Step, half_steps>& steps, const Tile& tile, Plane& out) {
    for (int y = -spare; y < tile.height + spare; ++y) {
        std::array<const float*, half_steps> rows{};
        for (std::size_t i = 0; i < half_steps; ++i) rows[i] = smooth.row(y + steps[i].dy) + steps[i].dx - spare;
        mean_of_rows(rows, tile.width + 2 * spare, out.row(y) - spare);
    }
}

// Between the four pixels around a place off the grid; the same place for every pixel of a row.
class Beside {
public:
    Beside(Plane& band, int y, double dx, double dy) {
        const int left = static_cast<int>(std::floor(dx));
        const int top = static_cast<int>(std::floor(dy));
        right_ = static_cast<float>(dx - left);
        lower_ = static_cast<float>(dy - top);
        above_ = band.row(y + top) + left;
        below_ = band.row(y + top + 1) + left;
    }
    [[nodiscard]] float at(int x) const {
        return (1 - lower_) * ((1 - right_) * above_[x] + right_ * above_[x + 1]) +
               lower_ * ((1 - right_) * below_[x] + right_ * below_[x + 1]);
    }

private:
    float right_ = 0.0F;
    float lower_ = 0.0F;
    const float* above_ = nullptr;
    const float* below_ = nullptr;
};

// Both halves must be darker than both their sides: an edge has one dark side, a spot is dark in one half.
struct HalfRow {
    HalfRow(Plane& mean, const Direction& direction, int y)
        : one(mean, y, direction.side_x, direction.side_y),
          other(mean, y, -direction.side_x, -direction.side_y),
          middle(mean.row(y)) {}
    [[nodiscard]] float depth(int x) const { return std::min(one.at(x), other.at(x)) - middle[x]; }

    Beside one;
    Beside other;
    const float* middle;
};

TEDGE_CLONES void deepen_row(const HalfRow& before, const HalfRow& after, int width, float* best) {
    const HalfRow first = before;
    const HalfRow second = after;
    for (int x = 0; x < width; ++x) best[x] = std::max(best[x], std::min(first.depth(x), second.depth(x)));
}

void deepen(const Direction& direction, const Tile& tile, Work& work) {
    for (int y = 0; y < tile.height; ++y)
        deepen_row({work.before, direction, y}, {work.after, direction, y}, tile.width, work.best.row(y));
}

void depth_of_tile(const Raster8& gray, const Tile& tile, const std::vector<Direction>& all, Work& work,
                   Raster16& out) {
    smooth_tile(gray, tile, work.smooth);
    for (int y = 0; y < tile.height; ++y) std::fill_n(work.best.row(y), tile.width, 0.0F);
    for (const Direction& direction : all) {
        mean_along(work.smooth, direction.before, tile, work.before);
        mean_along(work.smooth, direction.after, tile, work.after);
        deepen(direction, tile, work);
    }
    for (int y = 0; y < tile.height; ++y)
        for (int x = 0; x < tile.width; ++x)
            out.at(tile.left + x, tile.top + y) = static_cast<std::uint16_t>(depth_units * work.best.row(y)[x] + 0.5F);
}

std::vector<Tile> tiles_of(SizePx size) {
    std::vector<Tile> out;
    for (int top = 0; top < size.height_px; top += rows_in_tile)
        for (int left = 0; left < size.width_px; left += columns_in_tile)
            out.push_back({left, top, std::min(columns_in_tile, size.width_px - left),
                           std::min(rows_in_tile, size.height_px - top)});
    return out;
}

Expected<Raster16> depth_of(const Raster8& gray, const Progress& progress) {
    Raster16 out(gray.width_px(), gray.height_px(), 1);
    const auto directions_of_lines = all_directions();
    const auto tiles = tiles_of(gray.size());
    const int workers = worker_count(0);
    std::vector<Work> work(static_cast<std::size_t>(workers));
    for_each_index(
        static_cast<int>(tiles.size()), workers, [&] { return progress.stopped(); },
        [&](int index, int worker) {
            if (worker == 0)
                progress.at(static_cast<double>(index) / static_cast<double>(tiles.size()), "looking for cracks");
            depth_of_tile(gray, tiles[static_cast<std::size_t>(index)], directions_of_lines,
                          work[static_cast<std::size_t>(worker)], out);
        });
    if (progress.stopped()) return cancelled();
    return out;
}

Raster8 halved(const Raster8& gray) {
    Raster8 out((gray.width_px() + 1) / 2, (gray.height_px() + 1) / 2, 1);
    for (int y = 0; y < out.height_px(); ++y) {
        const std::uint8_t* a = gray.row(2 * y);
        const std::uint8_t* b = gray.row(std::min(2 * y + 1, gray.height_px() - 1));
        for (int x = 0; x < out.width_px(); ++x) {
            const int next = std::min(2 * x + 1, gray.width_px() - 1);
            out.at(x, y) = static_cast<std::uint8_t>((a[2 * x] + a[next] + b[2 * x] + b[next] + 2) / 4);
        }
    }
    return out;
}

}  // namespace

Expected<LineLevels> line_levels(Raster8 gray, int levels, const Progress& progress) {
    LineLevels out;
    out.gray.push_back(std::move(gray));
    double done = 0.0;
    for (int level = 0; level < levels; ++level) {
        const double share = 0.75 * std::pow(0.25, level);  // of the pixels of all levels
        auto depth = depth_of(out.gray.back(), progress.part(done, done + share));
        if (!depth) return pass_on(depth);
        out.depth.push_back(std::move(*depth));
        done += share;
        if (level + 1 < levels) out.gray.push_back(halved(out.gray.back()));
    }
    return out;
}

}  // namespace tedge::imaging
