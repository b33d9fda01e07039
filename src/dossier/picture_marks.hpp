// Places drawn over a printed picture. Nothing is see-through: archival PDF allows no transparency, so outlines are
// cased in white to stand out on light and dark paint alike.
#pragma once

#include "set_text.hpp"

namespace tedge::dossier::page {

void draw_outline(QPainter& painter, const PictureMark& mark, SizePx size, const QRectF& target);
void draw_label(QPainter& painter, const PictureMark& mark, SizePx size, const QRectF& target, const Types& types);

}  // namespace tedge::dossier::page
