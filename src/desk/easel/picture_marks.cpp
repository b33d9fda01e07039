#include "easel/picture_marks.hpp"

#include <QObject>
#include <QPainter>

#include "tedge/base/number_text.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

constexpr double scale_bar_px = 130;

}  // namespace

void paint_haloed_text(QPainter& painter, const QRectF& box, int flags, const QString& text) {
    painter.setPen(QColor(0, 0, 0, 200));
    for (const QPointF by : {QPointF(-1, 0), QPointF(1, 0), QPointF(0, -1), QPointF(0, 1)}) {
        painter.drawText(box.translated(by), flags, text);
    }
    painter.setPen(Qt::white);
    painter.drawText(box, flags, text);
}

void paint_scale_bar(QPainter& painter, const QRectF& area, const ViewFrame& frame, bool is_in_mm, double enlarged) {
    const double length = round_length(scale_bar_px * enlarged, frame.screen_px_per_mm());
    const double px = length * frame.screen_px_per_mm();
    const QPointF corner = area.bottomLeft();
    painter.setPen(QColor(0, 0, 0, 200));
    painter.setBrush(Qt::white);
    painter.drawRect(QRectF(corner + QPointF(16, -22) * enlarged, QSizeF(px, 5 * enlarged)));
    const QString unit = is_in_mm ? QObject::tr("%1 mm") : QObject::tr("%1 px of the photograph");
    paint_haloed_text(painter, QRectF(corner + QPointF(16, -46) * enlarged, QSizeF(300, 20) * enlarged),
                      Qt::AlignLeft | Qt::AlignVCenter, unit.arg(shown(format_number(length))));
}

}  // namespace tedge::desk
