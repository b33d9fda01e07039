// What is written over a picture so that it reads on any paint: text with a dark rim, and the scale.
#pragma once

#include <QRectF>
#include <QString>

#include "easel/view_frame.hpp"

class QPainter;

namespace tedge::desk {

void paint_haloed_text(QPainter& painter, const QRectF& box, int flags, const QString& text);

// A bar of a round length with its length above, at the lower left of `area`. `enlarged`: how many times larger than on
// the screen everything is painted. `frame` is that of the area.
void paint_scale_bar(QPainter& painter, const QRectF& area, const ViewFrame& frame, bool is_in_mm,
                     double enlarged = 1.0);

}  // namespace tedge::desk
