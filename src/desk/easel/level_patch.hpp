// Putting a patch of a pyramid level together from its tiles. Where a tile has not arrived, the coarser levels stand
// in.
#pragma once

#include <QRect>

#include "easel/tile_store.hpp"

namespace tedge::desk {

struct PatchInSight {
    const LevelPatch* patch = nullptr;  // nullptr where nothing of the level is in sight; good until the next call
    bool complete = false;              // no tile in sight is missing
};

// `part` in pixels of the level; larger than the level is cut to it. What was put together last is used again where it
// reaches: then only tiles that have come meanwhile are drawn.
[[nodiscard]] PatchInSight level_patch(TileStore& tiles, const std::filesystem::path& pyramid, int level, QRect part);

}  // namespace tedge::desk
