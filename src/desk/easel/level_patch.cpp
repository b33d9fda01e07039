#include "easel/level_patch.hpp"

#include <QPainter>

#include "theme.hpp"

namespace tedge::desk {

namespace {

using imaging::PyramidShape;

// Draws what coarser levels have of the area, from the nearest level that has the tile.
void draw_coarser(QPainter& painter, TileStore& tiles, const std::filesystem::path& pyramid, const PyramidShape& shape,
                  int level, const QRect& area) {
    for (int coarser = level + 1; coarser < shape.levels; ++coarser) {
        const int shift = coarser - level;
        const int side = shape.tile_px << shift;
        const QImage tile = tiles.tile(pyramid, coarser, area.left() / side, area.top() / side);
        if (tile.isNull()) continue;
        const double scale = 1.0 / (1 << shift);
        const QRectF source((area.left() % side) * scale, (area.top() % side) * scale, area.width() * scale,
                            area.height() * scale);
        painter.drawImage(QRectF(area), tile, source);
        return;
    }
}

LevelPatch empty_patch(const PyramidShape& shape, int level, const QRect& columns_rows) {
    LevelPatch patch;
    patch.level = level;
    patch.tiles = columns_rows;
    patch.origin = columns_rows.topLeft() * shape.tile_px;
    patch.image = QImage(columns_rows.size() * shape.tile_px, QImage::Format_RGB32);
    for (int row = columns_rows.top(); row <= columns_rows.bottom(); ++row) {
        for (int column = columns_rows.left(); column <= columns_rows.right(); ++column)
            patch.missing.emplace_back(column, row);
    }
    return patch;
}

// Draws what has come of the missing tiles in sight, and what coarser levels have of the others.
bool draw_missing(LevelPatch& patch, TileStore& tiles, const std::filesystem::path& pyramid, const PyramidShape& shape,
                  const QRect& in_sight) {
    if (patch.missing.empty()) return true;
    bool complete = true;
    QPainter painter(&patch.image);
    painter.translate(-patch.origin);
    painter.setRenderHint(QPainter::SmoothPixmapTransform);
    std::erase_if(patch.missing, [&](const QPoint& tile) {
        if (!in_sight.contains(tile)) return false;
        const QPoint at = tile * shape.tile_px;
        const SizePx size = shape.tile_size(patch.level, tile.x(), tile.y());
        const QImage image = tiles.tile(pyramid, patch.level, tile.x(), tile.y());
        if (!image.isNull()) {
            painter.drawImage(at, image);
            return true;
        }
        complete = false;
        const QRect area(at, QSize(size.width_px, size.height_px));
        painter.fillRect(area, picture_surround);
        draw_coarser(painter, tiles, pyramid, shape, patch.level, area);
        return false;
    });
    return complete;
}

}  // namespace

PatchInSight level_patch(TileStore& tiles, const std::filesystem::path& pyramid, int level, QRect part) {
    const imaging::PyramidReader* reader = tiles.reader(pyramid);
    if (reader == nullptr) return {};
    const PyramidShape& shape = reader->shape();
    const SizePx size = shape.level_size(level);
    part = part.intersected(QRect(0, 0, size.width_px, size.height_px));
    if (part.isEmpty()) return {nullptr, true};
    const int side = shape.tile_px;
    const QRect in_sight(QPoint(part.left() / side, part.top() / side),
                         QPoint(part.right() / side, part.bottom() / side));
    LevelPatch& patch = tiles.patch_of(pyramid);
    if (patch.level != level || !patch.tiles.contains(in_sight)) patch = empty_patch(shape, level, in_sight);
    const bool complete = draw_missing(patch, tiles, pyramid, shape, in_sight);
    return {&patch, complete};
}

}  // namespace tedge::desk
