// Pixels of a pyramid level between their centres, from its tiles.
#pragma once

#include <QRgb>
#include <vector>

#include "easel/tile_grid.hpp"
#include "tedge/geometry/coordinates.hpp"

namespace tedge::desk {

class TileSampler {
public:
    // Level pixel centres: a photograph pixel x lies at (x + 0.5)·to_level - 0.5. sharp: the nearest pixel is shown as
    // the square that it is, nothing is mixed.
    TileSampler(const TileGrid& grid, double to_level, bool sharp);

    // `count` pixels from photograph pixel `from` on, `step` apart; the surround where the photograph does not reach.
    void run(PointPx from, PointPx step, int count, QRgb* out) const;

private:
    struct Line {
        double x, y, dx, dy;  // in pixels of the level
    };
    struct Interval {
        double low, high;
    };
    // A tile with the part of its image, in the image's own pixels, whose points have all that they are mixed of there.
    struct Tile {
        const QRgb* bits = nullptr;  // nullptr where nothing has come
        std::ptrdiff_t stride = 0;
        int width = 0;
        int height = 0;
        int shift = 0;
        QPoint origin;
        double scale = 1.0;  // image pixels for one of the level, then what is added
        double plus_x = 0.0;
        double plus_y = 0.0;
        Interval across{};
        Interval down{};
    };
    [[nodiscard]] Tile prepared(const GridTile& tile) const;
    [[nodiscard]] Interval whole(int first, int end, int side, double scale, double plus) const;
    [[nodiscard]] const Tile& tile_of(int x, int y) const;
    [[nodiscard]] bool is_beside(const Line& line, int count) const;
    [[nodiscard]] int run_within_tile(const Line& line, int count, QRgb* out) const;
    [[nodiscard]] QRgb at(double x, double y) const;
    [[nodiscard]] QRgb pixel(int x, int y) const;

    SizePx level_;
    int tile_px_;
    QRect in_sight_;  // columns and rows
    double to_level_;
    bool sharp_;
    std::vector<Tile> tiles_;
};

}  // namespace tedge::desk
