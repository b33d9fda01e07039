#include "picture_marks.hpp"

#include <QPainterPath>
#include <algorithm>

namespace tedge::dossier::page {

namespace {

constexpr double casing = pt(2.2);
constexpr double core = pt(1.0);
constexpr double point_radius = pt(2.2);

// The centre of the top-left pixel is (0, 0); its corner is half a pixel further out.
QPointF on_paper(PointPx point, SizePx size, const QRectF& target) {
    return {target.left() + (point.x_px + 0.5) / size.width_px * target.width(),
            target.top() + (point.y_px + 0.5) / size.height_px * target.height()};
}

QPainterPath path_of(const PictureMark& mark, SizePx size, const QRectF& target) {
    QPainterPath path;
    const auto add = [&](const std::vector<PointPx>& points, bool close) {
        if (points.empty()) return;
        path.moveTo(on_paper(points.front(), size, target));
        for (const auto& point : points) path.lineTo(on_paper(point, size, target));
        if (close) path.closeSubpath();
    };
    for (const auto& ring : mark.rings) add(ring, true);
    for (const auto& line : mark.lines) add(line, false);
    for (const auto& point : mark.points) path.addEllipse(on_paper(point, size, target), point_radius, point_radius);
    return path;
}

}  // namespace

void draw_outline(QPainter& painter, const PictureMark& mark, SizePx size, const QRectF& target) {
    const QPainterPath path = path_of(mark, size, target);
    painter.save();
    painter.setClipRect(target);
    painter.setBrush(Qt::NoBrush);
    painter.setPen(QPen(Qt::white, casing, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
    painter.drawPath(path);
    painter.setPen(QPen(colour::of(mark.tone), core, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
    painter.drawPath(path);
    painter.restore();
}

void draw_label(QPainter& painter, const PictureMark& mark, SizePx size, const QRectF& target, const Types& types) {
    if (!mark.label_at || mark.label.empty()) return;
    const SetText text(mark.label, types.disc, mm(20.0), painter.device());
    const double radius = std::max(pt(5.6), text.natural_width() / 2.0 + pt(2.2));
    QPointF centre = on_paper(*mark.label_at, size, target);
    // A small place would vanish under its own number: the disc stands at its corner instead.
    const QRectF place = path_of(mark, size, target).boundingRect();
    if (place.width() < 3.0 * radius && place.height() < 3.0 * radius)
        centre = place.topRight() + QPointF(0.8 * radius, -0.8 * radius);
    centre.setX(
        std::clamp(centre.x(), target.left() + radius, std::max(target.left() + radius, target.right() - radius)));
    centre.setY(
        std::clamp(centre.y(), target.top() + radius, std::max(target.top() + radius, target.bottom() - radius)));
    painter.setPen(QPen(Qt::white, pt(0.9)));
    painter.setBrush(colour::of(mark.tone));
    painter.drawEllipse(centre, radius, radius);
    painter.setBrush(Qt::NoBrush);
    text.draw(painter, centre - QPointF(text.natural_width() / 2.0, text.height() / 2.0));
}

}  // namespace tedge::dossier::page
