// Pictures with their captions, scale bars and the places marked on them.
#pragma once

#include "page_flow.hpp"

namespace tedge::dossier::page {

void lay_out(PageFlow& flow, const PictureRow& row);
// What the row takes when it is set at its full height, and the least it is content with.
[[nodiscard]] double room_to_begin(const PageFlow& flow, const PictureRow& row);

// One picture into a rectangle of its own shape, from pixels of about 300 to the inch.
[[nodiscard]] Expected<void> paint_picture(QPainter& painter, const Picture& picture, const QRectF& target,
                                           const Types& types);

}  // namespace tedge::dossier::page
