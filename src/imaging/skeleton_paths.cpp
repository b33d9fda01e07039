#include "skeleton_paths.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

namespace tedge::imaging {
namespace {

constexpr std::uint8_t unvisited = 1;
constexpr std::uint8_t visited = 2;
constexpr std::uint8_t node = 3;
constexpr int at_edge_px = 3;

// Sides before corners: a path turns by the shortest steps.
constexpr std::array<PixelXY, 8> around{{{0, -1}, {1, 0}, {0, 1}, {-1, 0}, {1, -1}, {1, 1}, {-1, 1}, {-1, -1}}};
constexpr std::array<PixelXY, 8> circle{{{0, -1}, {1, -1}, {1, 0}, {1, 1}, {0, 1}, {-1, 1}, {-1, 0}, {-1, -1}}};

class Tracer {
public:
    explicit Tracer(const Raster8& mask) : state_(mask.width_px(), mask.height_px(), 1) {
        for (int y = 0; y < mask.height_px(); ++y)
            for (int x = 0; x < mask.width_px(); ++x)
                if (mask.at(x, y) != 0) state_.at(x, y) = branches(mask, {x, y}) == 2 ? unvisited : node;
    }

    std::vector<SkeletonPath> paths(const Raster8& mask) {
        each(node, [&](PixelXY at) { from_node(mask, at); });
        each(unvisited, [&](PixelXY at) { out_.push_back(ring(at)); });
        return std::move(out_);
    }

private:
    template <class Do>
    void each(std::uint8_t in_state, const Do& act) const {
        for (int y = 0; y < state_.height_px(); ++y) {
            const std::uint8_t* row = state_.row(y);
            for (int x = 0; x < state_.width_px(); ++x)
                if (row[x] == in_state) act(PixelXY{x, y});
        }
    }

    static std::uint8_t value(const Raster8& of, PixelXY at) {
        return at.x >= 0 && at.y >= 0 && at.x < of.width_px() && at.y < of.height_px() ? of.at(at.x, at.y)
                                                                                       : std::uint8_t{0};
    }
    [[nodiscard]] std::uint8_t state(PixelXY at) const { return value(state_, at); }
    static PixelXY stepped(PixelXY at, PixelXY by) { return {at.x + by.x, at.y + by.y}; }

    // Changes from empty to set, once around: 1 at an end, 2 along a line, more at a crossing.
    static int branches(const Raster8& mask, PixelXY at) {
        int out = 0;
        for (std::size_t i = 0; i < 8; ++i)
            if (value(mask, stepped(at, circle[i])) == 0 && value(mask, stepped(at, circle[(i + 1) % 8])) != 0) ++out;
        return out;
    }

    void from_node(const Raster8& mask, PixelXY start) {
        const bool free = branches(mask, start) <= 1;
        for (const PixelXY step : around) {
            const PixelXY next = stepped(start, step);
            const bool later_node = state(next) == node && std::pair(next.y, next.x) > std::pair(start.y, start.x);
            if (state(next) != unvisited && !later_node) continue;
            SkeletonPath path = later_node ? SkeletonPath{{start, next}, false, false} : followed({start, next});
            path.free_start = free;
            path.free_end = state(path.pixels.back()) == node && branches(mask, path.pixels.back()) <= 1;
            out_.push_back(std::move(path));
        }
    }

    [[nodiscard]] std::optional<PixelXY> next_of(const std::vector<PixelXY>& so_far) const {
        const PixelXY here = so_far.back();
        const PixelXY before = so_far.size() > 1 ? so_far[so_far.size() - 2] : here;
        for (const PixelXY step : around) {
            const PixelXY next = stepped(here, step);
            if (state(next) == node && so_far.size() > 1 && !(next == before)) return next;
        }
        for (const PixelXY step : around)
            if (const PixelXY next = stepped(here, step); state(next) == unvisited) return next;
        return std::nullopt;
    }

    SkeletonPath followed(std::vector<PixelXY> pixels) {
        while (state(pixels.back()) != node) {
            state_.at(pixels.back().x, pixels.back().y) = visited;
            const auto next = next_of(pixels);
            if (!next) break;
            pixels.push_back(*next);
        }
        return {std::move(pixels), false, false};
    }

    // Without end or crossing: it comes back to where it began.
    SkeletonPath ring(PixelXY start) {
        SkeletonPath path = followed({start});
        const PixelXY last = path.pixels.back();
        if (path.pixels.size() > 2 && std::max(std::abs(last.x - start.x), std::abs(last.y - start.y)) == 1)
            path.pixels.push_back(start);
        return path;
    }

    Raster8 state_;
    std::vector<SkeletonPath> out_;
};

}  // namespace

std::vector<SkeletonPath> paths_of(const Raster8& mask) {
    return Tracer(mask).paths(mask);
}

bool dangling(const SkeletonPath& path, SizePx size) {
    const auto inside = [&](PixelXY at) {
        return std::min({at.x, at.y, size.width_px - 1 - at.x, size.height_px - 1 - at.y}) > at_edge_px;
    };
    return (path.free_start && inside(path.pixels.front())) || (path.free_end && inside(path.pixels.back()));
}

}  // namespace tedge::imaging
