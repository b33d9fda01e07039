#include "easel/tile_sampler.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstring>

#include "theme.hpp"

namespace tedge::desk {

namespace {

// Steps are in fixed point of 16 bits after the point: whole runs stay this far from a tile's rim, so that no rounding
// reads beyond it.
constexpr double rim = 1.0 / 512;
constexpr double one = 65536.0;

using Channels = std::uint16_t __attribute__((vector_size(16)));
using Bytes = std::uint8_t __attribute__((vector_size(8)));

Channels two_pixels(const QRgb* pixel) {
    Bytes bytes;
    std::memcpy(&bytes, pixel, sizeof bytes);
    return __builtin_convertvector(bytes, Channels);
}

// Of the 16 bits after the point the upper 8 weigh. Both pixels of a row at once: eight channels of 16 bits, in which
// 255 · 256 has room.
void mix_run(const QRgb* bits, std::ptrdiff_t stride, double x, double y, double dx, double dy, int count, QRgb* out) {
    auto fixed_x = static_cast<std::int64_t>(x * one);
    auto fixed_y = static_cast<std::int64_t>(y * one);
    const auto step_x = static_cast<std::int64_t>(dx * one);
    const auto step_y = static_cast<std::int64_t>(dy * one);
    for (int i = 0; i < count; ++i, fixed_x += step_x, fixed_y += step_y) {
        const QRgb* pixel = bits + (fixed_y >> 16) * stride + (fixed_x >> 16);
        const auto right = static_cast<std::uint16_t>((fixed_x >> 8) & 0xFF);
        const auto below = static_cast<std::uint16_t>((fixed_y >> 8) & 0xFF);
        const auto left = static_cast<std::uint16_t>(256 - right);
        const auto above = static_cast<std::uint16_t>(256 - below);
        const Channels column = (two_pixels(pixel) * above + two_pixels(pixel + stride) * below) >> 8;
        const Channels weighed = column * Channels{left, left, left, left, right, right, right, right};
        const Channels mixed = (weighed + __builtin_shuffle(weighed, Channels{4, 5, 6, 7, 0, 1, 2, 3})) >> 8;
        const Bytes bytes = __builtin_convertvector(mixed, Bytes);
        std::memcpy(out + i, &bytes, sizeof(QRgb));
    }
}

void nearest_run(const QRgb* bits, std::ptrdiff_t stride, double x, double y, double dx, double dy, int count,
                 QRgb* out) {
    auto fixed_x = static_cast<std::int64_t>((x + 0.5) * one);
    auto fixed_y = static_cast<std::int64_t>((y + 0.5) * one);
    const auto step_x = static_cast<std::int64_t>(dx * one);
    const auto step_y = static_cast<std::int64_t>(dy * one);
    for (int i = 0; i < count; ++i, fixed_x += step_x, fixed_y += step_y)
        out[i] = bits[(fixed_y >> 16) * stride + (fixed_x >> 16)];
}

QRgb mix(QRgb a, QRgb b, unsigned share) {
    const unsigned keep = 256 - share;
    const unsigned odd = (((a & 0xFF00FFU) * keep + (b & 0xFF00FFU) * share) >> 8U) & 0xFF00FFU;
    const unsigned green = (((a & 0x00FF00U) * keep + (b & 0x00FF00U) * share) >> 8U) & 0x00FF00U;
    return 0xFF000000U | odd | green;
}

// Where a line runs within an interval; how many of its points lie there from the first on.
int steps_within(double from, double step, double low, double high, int count) {
    if (!(from >= low && from <= high)) return 0;
    if (std::abs(step) < 1e-9) return count;
    const double room = ((step > 0 ? high : low) - from) / step;
    return room >= count ? count : std::min(count, static_cast<int>(room) + 1);
}

}  // namespace

TileSampler::TileSampler(const TileGrid& grid, double to_level, bool sharp)
    : level_(grid.level), tile_px_(grid.tile_px), in_sight_(grid.tiles), to_level_(to_level), sharp_(sharp) {
    tiles_.reserve(grid.all.size());
    for (const GridTile& tile : grid.all) tiles_.push_back(prepared(tile));
}

// What lies between the centres of two of its pixels, or within half a pixel of one; and is in sight of it.
TileSampler::Interval TileSampler::whole(int first, int end, int side, double scale, double plus) const {
    const double least = sharp_ ? -0.5 : 0.0;
    return {std::max((first - 0.5) * scale + plus, least) + rim,
            std::min((end - 0.5) * scale + plus, side - 1 - least) - rim};
}

TileSampler::Tile TileSampler::prepared(const GridTile& tile) const {
    Tile made;
    if (tile.image.isNull()) return made;
    made.bits = reinterpret_cast<const QRgb*>(tile.image.constBits());
    made.stride = tile.image.bytesPerLine() / static_cast<std::ptrdiff_t>(sizeof(QRgb));
    made.width = tile.image.width();
    made.height = tile.image.height();
    made.shift = tile.shift;
    made.origin = tile.origin;
    // Pixel edges of the level are pixel edges of the coarser one, every so many.
    made.scale = 1.0 / (1 << tile.shift);
    made.plus_x = 0.5 * made.scale - 0.5 - tile.origin.x();
    made.plus_y = 0.5 * made.scale - 0.5 - tile.origin.y();
    const QRect& part = tile.in_sight;
    made.across = whole(part.left(), part.right() + 1, made.width, made.scale, made.plus_x);
    made.down = whole(part.top(), part.bottom() + 1, made.height, made.scale, made.plus_y);
    return made;
}

const TileSampler::Tile& TileSampler::tile_of(int x, int y) const {
    const int column = std::clamp(x / tile_px_, in_sight_.left(), in_sight_.right()) - in_sight_.left();
    const int row = std::clamp(y / tile_px_, in_sight_.top(), in_sight_.bottom()) - in_sight_.top();
    return tiles_[static_cast<std::size_t>(row * in_sight_.width() + column)];
}

// Wholly on one side of the picture.
bool TileSampler::is_beside(const Line& line, int count) const {
    const auto is_off = [count](double from, double step, int side) {
        const double to = from + step * (count - 1);
        return std::max(from, to) <= -0.5 || std::min(from, to) >= side - 0.5;
    };
    return tiles_.empty() || is_off(line.x, line.dx, level_.width_px) || is_off(line.y, line.dy, level_.height_px);
}

void TileSampler::run(PointPx from, PointPx step, int count, QRgb* out) const {
    const Line line{(from.x_px + 0.5) * to_level_ - 0.5, (from.y_px + 0.5) * to_level_ - 0.5, step.x_px * to_level_,
                    step.y_px * to_level_};
    if (is_beside(line, count)) {
        std::fill_n(out, count, picture_surround.rgb());
        return;
    }
    for (int done = 0; done < count;) {
        const Line rest{line.x + line.dx * done, line.y + line.dy * done, line.dx, line.dy};
        const int within = run_within_tile(rest, count - done, out + done);
        if (within == 0) out[done] = at(rest.x, rest.y);
        done += std::max(within, 1);
    }
}

// As many as have all that they are mixed of in one tile; 0 where already the first has not.
int TileSampler::run_within_tile(const Line& line, int count, QRgb* out) const {
    const double reach = sharp_ ? 0.5 : 0.0;  // the nearest pixel is the one whose square holds the point
    const double x = line.x + reach, y = line.y + reach;
    if (tiles_.empty() || !(x >= 0 && y >= 0 && x < level_.width_px && y < level_.height_px)) return 0;
    const Tile& tile = tile_of(static_cast<int>(x), static_cast<int>(y));
    if (tile.bits == nullptr) return 0;
    const double from_x = line.x * tile.scale + tile.plus_x, from_y = line.y * tile.scale + tile.plus_y;
    const double dx = line.dx * tile.scale, dy = line.dy * tile.scale;
    const int across = steps_within(from_x, dx, tile.across.low, tile.across.high, count);
    const int within = steps_within(from_y, dy, tile.down.low, tile.down.high, across);
    if (within > 0) (sharp_ ? nearest_run : mix_run)(tile.bits, tile.stride, from_x, from_y, dx, dy, within, out);
    return within;
}

// At the rim of a tile or of the picture: the surround beyond the photograph, its last pixel up to its edge.
QRgb TileSampler::at(double x, double y) const {
    if (tiles_.empty() || !(x > -0.5 && y > -0.5 && x < level_.width_px - 0.5 && y < level_.height_px - 0.5))
        return picture_surround.rgb();
    if (sharp_) return pixel(static_cast<int>(std::lround(x)), static_cast<int>(std::lround(y)));
    const int x0 = static_cast<int>(std::floor(x));
    const int y0 = static_cast<int>(std::floor(y));
    const auto fx = static_cast<unsigned>((x - x0) * 256);
    const auto fy = static_cast<unsigned>((y - y0) * 256);
    return mix(mix(pixel(x0, y0), pixel(x0 + 1, y0), fx), mix(pixel(x0, y0 + 1), pixel(x0 + 1, y0 + 1), fx), fy);
}

// Of the nearest pixel that there is.
QRgb TileSampler::pixel(int x, int y) const {
    const int level_x = std::clamp(x, 0, level_.width_px - 1);
    const int level_y = std::clamp(y, 0, level_.height_px - 1);
    const Tile& tile = tile_of(level_x, level_y);
    if (tile.bits == nullptr) return picture_surround.rgb();
    const int image_x = std::clamp((level_x >> tile.shift) - tile.origin.x(), 0, tile.width - 1);
    const int image_y = std::clamp((level_y >> tile.shift) - tile.origin.y(), 0, tile.height - 1);
    return tile.bits[image_y * tile.stride + image_x];
}

}  // namespace tedge::desk
