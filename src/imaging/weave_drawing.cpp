#include "tedge/imaging/weave_drawing.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "tedge/imaging/difference_scale.hpp"

namespace tedge::imaging {
namespace {

constexpr int longest_side_px = 2400;  // of both sets together
constexpr int largest_block_px = 24;
constexpr int least_block_with_line_px = 10;
constexpr double turned_more = 5.0;
constexpr std::array<std::uint8_t, 3> not_trusted{128, 128, 128};
// Counts of one canvas lie close together; less than this share to either side is no pattern worth a colour.
constexpr double least_half_range = 0.05;

using Rgb = std::array<std::uint8_t, 3>;

void put(Raster8& out, int x, int y, const Rgb& colour) {
    std::ranges::copy(colour, &out.at(x, y, 0));
}

WeaveScale scale_for(const ThreadSet& set) {
    const double half = std::max(3.0 * set.spread_per_cm, least_half_range * set.threads_per_cm);
    return {set.threads_per_cm - half, set.threads_per_cm + half};
}

// Black on bright, white on dark.
Rgb line_on(const Rgb& colour) {
    const int sum = colour[0] + 2 * colour[1] + colour[2];
    return sum > 2 * 255 ? Rgb{0, 0, 0} : Rgb{255, 255, 255};
}

class Block {
public:
    Block(Raster8& out, int x0, int y0, int side) : out_(out), x0_(x0), y0_(y0), side_(side) {}

    void fill(const Rgb& colour) {
        for (int y = 0; y < side_; ++y)
            for (int x = 0; x < side_; ++x) put(out_, x0_ + x, y0_ + y, colour);
    }
    void line(double degrees, const Rgb& colour) {
        const double angle = degrees * std::numbers::pi / 180.0;
        const double reach = side_ / 2.0 - 2.0;
        for (double along = -reach; along <= reach; along += 0.5) {
            const int x = x0_ + static_cast<int>(std::lround(side_ / 2.0 - 0.5 + along * std::cos(angle)));
            const int y = y0_ + static_cast<int>(std::lround(side_ / 2.0 - 0.5 + along * std::sin(angle)));
            put(out_, x, y, colour);
        }
    }

private:
    Raster8& out_;
    int x0_, y0_, side_;
};

void draw_set(const WeaveMap& map, ThreadsHere WeaveSquare::* which, const ThreadSet& set, const WeaveScale& scale,
              int left, int side, Raster8& out) {
    for (int row = 0; row < map.rows; ++row)
        for (int column = 0; column < map.columns; ++column) {
            const ThreadsHere& here = map.at(column, row).*which;
            Block block(out, left + column * side, row * side, side);
            if (here.trust < trusted_from) {
                block.fill(not_trusted);
                continue;
            }
            const double position =
                (here.threads_per_cm - scale.low_per_cm) / std::max(1e-9, scale.high_per_cm - scale.low_per_cm);
            const Rgb colour = scale_colour(position);
            block.fill(colour);
            if (side >= least_block_with_line_px)
                block.line(set.angle_deg + 90.0 + turned_more * (here.angle_deg - set.angle_deg), line_on(colour));
        }
}

// Squares stand evenly, but not equally far apart across and down.
Homography photo_from_blocks(const WeaveMap& map, int side) {
    if (map.squares.empty()) return {};
    const PointPx first = map.squares.front().centre;
    const PointPx last = map.squares.back().centre;
    // Of the photograph, for a pixel of the drawing.
    const double x = (map.columns > 1 ? (last.x_px - first.x_px) / (map.columns - 1) : map.step_px) / side;
    const double y = (map.rows > 1 ? (last.y_px - first.y_px) / (map.rows - 1) : map.step_px) / side;
    const double to_middle = (side - 1) / 2.0;
    return Homography::from_row_major({x, 0, first.x_px - to_middle * x, 0, y, first.y_px - to_middle * y, 0, 0, 1})
        .value_or(Homography());
}

}  // namespace

DrawnThreads draw_threads(const ThreadCount& count, bool across) {
    const WeaveMap& map = count.map;
    const ThreadSet& set = across ? count.a : count.b;
    const int columns = std::max(1, map.columns), rows = std::max(1, map.rows);
    const int side = std::clamp(longest_side_px / std::max(columns, rows), 1, largest_block_px);
    DrawnThreads out{.drawn = Raster8(columns * side, rows * side, 3),
                     .scale = scale_for(set),
                     .block_px = side,
                     .photo_from_drawn = photo_from_blocks(map, side)};
    std::ranges::fill(out.drawn.samples(), std::uint8_t{128});
    if (!map.squares.empty())
        draw_set(map, across ? &WeaveSquare::a : &WeaveSquare::b, set, out.scale, 0, side, out.drawn);
    return out;
}

DrawnWeave draw_weave(const ThreadCount& count) {
    const WeaveMap& map = count.map;
    const int columns = std::max(1, map.columns), rows = std::max(1, map.rows);
    const int side = std::clamp(longest_side_px / std::max(2 * columns, rows), 1, largest_block_px);
    const int gap = side;
    DrawnWeave out{
        .drawn = Raster8(2 * columns * side + gap, rows * side, 3), .a = scale_for(count.a), .b = scale_for(count.b)};
    std::ranges::fill(out.drawn.samples(), std::uint8_t{128});
    for (int y = 0; y < out.drawn.height_px(); ++y)
        for (int x = 0; x < gap; ++x) put(out.drawn, columns * side + x, y, {255, 255, 255});
    if (map.squares.empty()) return out;
    draw_set(map, &WeaveSquare::a, count.a, out.a, 0, side, out.drawn);
    draw_set(map, &WeaveSquare::b, count.b, out.b, columns * side + gap, side, out.drawn);
    return out;
}

}  // namespace tedge::imaging
