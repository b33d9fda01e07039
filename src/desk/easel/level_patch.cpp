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

}  // namespace

LevelPatch level_patch(TileStore& tiles, const std::filesystem::path& pyramid, int level, QRect part) {
    LevelPatch patch;
    patch.level = level;
    const imaging::PyramidReader* reader = tiles.reader(pyramid);
    if (reader == nullptr) return patch;
    const PyramidShape& shape = reader->shape();
    const SizePx size = shape.level_size(level);
    part = part.intersected(QRect(0, 0, size.width_px, size.height_px));
    if (part.isEmpty()) return patch;
    const int side = shape.tile_px;
    const QRect columns_rows(QPoint(part.left() / side, part.top() / side),
                             QPoint(part.right() / side, part.bottom() / side));
    patch.origin = columns_rows.topLeft() * side;
    patch.image = QImage(columns_rows.size() * side, QImage::Format_RGB32);
    patch.image.fill(picture_surround);
    patch.complete = true;
    QPainter painter(&patch.image);
    painter.translate(-patch.origin);
    painter.setRenderHint(QPainter::SmoothPixmapTransform);
    for (int row = columns_rows.top(); row <= columns_rows.bottom(); ++row) {
        for (int column = columns_rows.left(); column <= columns_rows.right(); ++column) {
            const QImage tile = tiles.tile(pyramid, level, column, row);
            const QPoint at(column * side, row * side);
            if (!tile.isNull()) {
                painter.drawImage(at, tile);
                continue;
            }
            patch.complete = false;
            const SizePx tile_size = shape.tile_size(level, column, row);
            draw_coarser(painter, tiles, pyramid, shape, level,
                         QRect(at, QSize(tile_size.width_px, tile_size.height_px)));
        }
    }
    return patch;
}

}  // namespace tedge::desk
