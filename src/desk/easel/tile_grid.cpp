#include "easel/tile_grid.hpp"

namespace tedge::desk {

namespace {

using imaging::PyramidShape;

// The nearest coarser level that has come.
void let_stand_in(GridTile& made, TileStore& tiles, const std::filesystem::path& pyramid, const PyramidShape& shape,
                  int level) {
    for (int coarser = level + 1; coarser < shape.levels; ++coarser) {
        const int shift = coarser - level;
        const int side = shape.tile_px << shift;
        const QPoint tile(made.in_sight.left() / side, made.in_sight.top() / side);
        made.image = tiles.tile(pyramid, coarser, tile.x(), tile.y());
        if (made.image.isNull()) continue;
        made.shift = shift;
        made.origin = tile * shape.tile_px;
        return;
    }
}

}  // namespace

TileGrid tiles_in_sight(TileStore& tiles, const std::filesystem::path& pyramid, int level, QRect part) {
    TileGrid grid;
    const imaging::PyramidReader* reader = tiles.reader(pyramid);
    if (reader == nullptr) return grid;
    const PyramidShape& shape = reader->shape();
    grid.level = shape.level_size(level);
    grid.tile_px = shape.tile_px;
    part = part.intersected(QRect(0, 0, grid.level.width_px, grid.level.height_px));
    if (part.isEmpty()) return grid;
    const int side = shape.tile_px;
    grid.tiles =
        QRect(QPoint(part.left() / side, part.top() / side), QPoint(part.right() / side, part.bottom() / side));
    for (int row = grid.tiles.top(); row <= grid.tiles.bottom(); ++row) {
        for (int column = grid.tiles.left(); column <= grid.tiles.right(); ++column) {
            const SizePx size = shape.tile_size(level, column, row);
            GridTile made;
            made.origin = QPoint(column, row) * side;
            made.in_sight = QRect(made.origin, QSize(size.width_px, size.height_px));
            made.image = tiles.tile(pyramid, level, column, row);
            if (made.image.isNull()) {
                grid.complete = false;
                let_stand_in(made, tiles, pyramid, shape, level);
            }
            grid.all.push_back(std::move(made));
        }
    }
    return grid;
}

}  // namespace tedge::desk
