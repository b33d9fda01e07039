// The part of one pyramid level that a view needs, put together in one image so that it can be sampled without looking
// up tiles. Where a tile has not arrived, the coarser levels stand in for it.
#pragma once

#include <QImage>
#include <QRect>

#include "easel/tile_store.hpp"

namespace tedge::desk {

struct LevelPatch {
    QImage image;   // RGB32
    QPoint origin;  // of the image, in pixels of the level
    int level = 0;
    bool complete = false;  // no tile is missing
};

// `part` in pixels of the level; larger than the level is cut to it. A null image where nothing of it is there.
[[nodiscard]] LevelPatch level_patch(TileStore& tiles, const std::filesystem::path& pyramid, int level, QRect part);

}  // namespace tedge::desk
