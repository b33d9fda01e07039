#include "picture_orientation.hpp"

#include <algorithm>
#include <utility>

namespace tedge::imaging {
namespace {

// The stored pixel that belongs at an upright one is (x0 + x·xx + y·xy, y0 + x·yx + y·yy).
struct Walk {
    int x0, xx, xy, y0, yx, yy;
};

Walk walk_for(int orientation, SizePx stored) {
    const int right = stored.width_px - 1, bottom = stored.height_px - 1;
    switch (orientation) {
        case 2:
            return {right, -1, 0, 0, 0, 1};  // mirrored left to right
        case 3:
            return {right, -1, 0, bottom, 0, -1};  // upside down
        case 4:
            return {0, 1, 0, bottom, 0, -1};  // mirrored top to bottom
        case 5:
            return {0, 0, 1, 0, 1, 0};  // rows are columns
        case 6:
            return {0, 0, 1, bottom, -1, 0};  // turn a quarter clockwise
        case 7:
            return {right, 0, -1, bottom, -1, 0};  // rows are columns, from the far corner
        case 8:
            return {right, 0, -1, 0, 1, 0};  // turn a quarter anticlockwise
        default:
            return {0, 1, 0, 0, 0, 1};
    }
}

template <class T>
void copy_block(const Raster<T>& stored, Raster<T>& upright, const Walk& w, int x_from, int x_to, int y) {
    const int channels = stored.channels();
    for (int x = x_from; x < x_to; ++x) {
        const T* from = &stored.at(w.x0 + x * w.xx + y * w.xy, w.y0 + x * w.yx + y * w.yy);
        std::copy_n(from, channels, &upright.at(x, y));
    }
}

// Block by block, so that reading down columns stays in the cache.
template <class T>
Raster<T> upright_of(const Raster<T>& stored, int orientation) {
    constexpr int block = 64;
    const SizePx size = oriented_size(stored.size(), orientation);
    Raster<T> upright(size.width_px, size.height_px, stored.channels());
    const Walk walk = walk_for(orientation, stored.size());
    for (int y0 = 0; y0 < size.height_px; y0 += block)
        for (int x0 = 0; x0 < size.width_px; x0 += block)
            for (int y = y0; y < std::min(y0 + block, size.height_px); ++y)
                copy_block(stored, upright, walk, x0, std::min(x0 + block, size.width_px), y);
    return upright;
}

}  // namespace

SizePx oriented_size(SizePx stored, int orientation) {
    if (swaps_sides(orientation)) std::swap(stored.width_px, stored.height_px);
    return stored;
}

void turn_upright(Picture& picture, int orientation) {
    if (orientation <= 1 || orientation > 8) return;
    std::visit([orientation](auto& raster) { raster = upright_of(raster, orientation); }, picture.pixels);
}

}  // namespace tedge::imaging
