// Pixels of a level from its tiles, against the formula of bilinear interpolation reckoned in double over the whole
// level.
#include "easel/tile_sampler.hpp"

#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>

#include "theme.hpp"

using namespace tedge;
using namespace tedge::desk;

namespace {

constexpr int side = 64;
constexpr SizePx level{150, 100};

// Every pixel another, and none of a channel like another's.
QRgb painted(int x, int y) {
    return qRgb((x * 37 + y * 11) % 256, (x * 5 + y * 91) % 256, (x * 13 + y * 7) % 256);
}

QImage tile_image(int column, int row, int scale = 1) {
    const int width = std::min(side, level.width_px / scale - column * side);
    const int height = std::min(side, level.height_px / scale - row * side);
    QImage image(width, height, QImage::Format_RGB32);
    for (int y = 0; y < height; ++y)
        for (int x = 0; x < width; ++x) image.setPixel(x, y, painted(column * side + x, row * side + y));
    return image;
}

TileGrid whole_level() {
    TileGrid grid;
    grid.level = level;
    grid.tile_px = side;
    grid.tiles = QRect(0, 0, 3, 2);
    for (int row = 0; row < 2; ++row) {
        for (int column = 0; column < 3; ++column) {
            GridTile tile;
            tile.image = tile_image(column, row);
            tile.origin = QPoint(column, row) * side;
            tile.in_sight = QRect(tile.origin, tile.image.size());
            grid.all.push_back(tile);
        }
    }
    return grid;
}

using Channel = int (*)(QRgb);
constexpr std::array<Channel, 3> channels{qRed, qGreen, qBlue};

double mixed(double x, double y, Channel channel) {
    const auto at = [&](int px, int py) {
        return channel(painted(std::clamp(px, 0, level.width_px - 1), std::clamp(py, 0, level.height_px - 1)));
    };
    const int x0 = static_cast<int>(std::floor(x)), y0 = static_cast<int>(std::floor(y));
    const double fx = x - x0, fy = y - y0;
    return (at(x0, y0) * (1 - fx) + at(x0 + 1, y0) * fx) * (1 - fy) +
           (at(x0, y0 + 1) * (1 - fx) + at(x0 + 1, y0 + 1) * fx) * fy;
}

bool is_outside(double x, double y) {
    return !(x > -0.5 && y > -0.5 && x < level.width_px - 0.5 && y < level.height_px - 0.5);
}

}  // namespace

TEST_CASE("Runs over tiles, across their rims and beyond the picture give what the whole level gives") {
    const TileGrid grid = whole_level();
    const TileSampler sampler(grid, 1.0, false);
    for (const double degrees : {0.0, 3.0, 45.0, 90.0, 177.0, 271.0}) {
        const PointPx step{1.3 * std::cos(degrees * 0.0174533), 1.3 * std::sin(degrees * 0.0174533)};
        double worst = 0;
        for (int line = -20; line < 130; ++line) {
            const PointPx from{75 + 0.9 * line * -step.y_px - 110 * step.x_px,
                               50 + 0.9 * line * step.x_px - 110 * step.y_px};
            std::array<QRgb, 220> out{};
            sampler.run(from, step, 220, out.data());
            for (int i = 0; i < 220; ++i) {
                const double x = from.x_px + step.x_px * i, y = from.y_px + step.y_px * i;
                if (is_outside(x, y)) {
                    REQUIRE(out[static_cast<std::size_t>(i)] == picture_surround.rgb());
                    continue;
                }
                for (const Channel channel : channels)
                    worst = std::max(worst, std::abs(channel(out[static_cast<std::size_t>(i)]) - mixed(x, y, channel)));
            }
        }
        CAPTURE(degrees);
        CHECK(worst < 5);  // weights of 8 bits, cut off twice, and steps of 16 bits along the run
    }
}

TEST_CASE("Far in, a pixel is shown as the square it is, in every tile") {
    const TileGrid grid = whole_level();
    const TileSampler sampler(grid, 1.0, true);
    for (int y = 0; y < level.height_px; ++y) {
        std::array<QRgb, level.width_px * 5> out{};
        sampler.run({-0.4, y + 0.3}, {0.2, 0.0}, static_cast<int>(out.size()), out.data());
        for (int x = 0; x < level.width_px; ++x)
            for (int i = 0; i < 5; ++i) REQUIRE(out[static_cast<std::size_t>(5 * x + i)] == painted(x, y));
    }
}

TEST_CASE("Where a tile has not come a coarser one stands in, where it belongs") {
    TileGrid grid = whole_level();
    // In the middle of the upper row: half the size, its pixels 32 to 64 across.
    GridTile& middle = grid.all[1];
    QImage coarse(64, 50, QImage::Format_RGB32);
    for (int y = 0; y < 50; ++y)
        for (int x = 0; x < 64; ++x) coarse.setPixel(x, y, qRgb(4 * x, 4 * y, 0));
    middle.image = coarse;
    middle.shift = 1;
    middle.origin = {0, 0};
    const TileSampler sampler(grid, 1.0, false);
    for (int y = 2; y < 60; ++y) {
        std::array<QRgb, 60> out{};
        sampler.run({66.0, static_cast<double>(y)}, {1.0, 0.0}, 58, out.data());
        for (int i = 0; i < 58; ++i) {
            // Pixel x of the level lies at (x + 0.5) / 2 - 0.5 of the coarser one.
            CHECK(qRed(out[static_cast<std::size_t>(i)]) == Approx(4 * ((66 + i + 0.5) / 2 - 0.5)).margin(2.1));
            CHECK(qGreen(out[static_cast<std::size_t>(i)]) == Approx(4 * ((y + 0.5) / 2 - 0.5)).margin(2.1));
        }
    }
    // Its neighbours are themselves, and nothing at all is the surround.
    QRgb pixel = 0;
    sampler.run({20.0, 20.0}, {1.0, 0.0}, 1, &pixel);
    CHECK(pixel == painted(20, 20));
    middle.image = {};
    TileSampler(grid, 1.0, false).run({90.0, 20.0}, {1.0, 0.0}, 1, &pixel);
    CHECK(pixel == picture_surround.rgb());
}
