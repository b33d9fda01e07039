// The tiles of one pyramid level that a view needs, each where it is kept: nothing is copied together. Where a tile has
// not arrived, one of a coarser level stands in.
#pragma once

#include <QImage>
#include <QRect>
#include <vector>

#include "easel/tile_store.hpp"

namespace tedge::desk {

struct GridTile {
    QImage image;    // RGB32; null where neither the tile nor one that stands in has come
    int shift = 0;   // so many levels coarser
    QPoint origin;   // of the image's first pixel, in pixels of its own level
    QRect in_sight;  // what of the level it shows, in pixels of the level
};

struct TileGrid {
    SizePx level;
    int tile_px = 256;
    QRect tiles;                // columns and rows; empty where nothing of the level is in sight
    std::vector<GridTile> all;  // row by row
    bool complete = true;       // no tile stands in for another
};

// `part` in pixels of the level; larger than the level is cut to it. What is missing is asked for.
[[nodiscard]] TileGrid tiles_in_sight(TileStore& tiles, const std::filesystem::path& pyramid, int level, QRect part);

}  // namespace tedge::desk
