// How compared photographs are painted: beside one another, or the first two in one another's place.
#include <QPainter>
#include <QPainterPath>
#include <cmath>
#include <numbers>

#include "compare/compare_canvas.hpp"
#include "easel/picture_marks.hpp"
#include "theme.hpp"

namespace tedge::desk {

QLineF CompareCanvas::divider(QSizeF size) const {
    const double turn = angle_degrees_ * std::numbers::pi / 180.0;
    const QPointF along(-std::sin(turn), std::cos(turn));
    const QPointF across(std::cos(turn), std::sin(turn));
    const double reach = std::abs(across.x()) * size.width() / 2 + std::abs(across.y()) * size.height() / 2;
    const QPointF middle = QPointF(size.width(), size.height()) / 2 + across * ((2 * divider_share_ - 1) * reach);
    const double far = size.width() + size.height();
    return {middle - along * far, middle + along * far};
}

QImage CompareCanvas::picture(std::size_t photograph, const QRect& part_of_cell, Look& look) {
    const ShownPhotograph& shown = photographs_[photograph].shown;
    if (look.on_screen) {
        const Rendered& rendered = rendered_.picture(photograph, shown, look.frame, part_of_cell);
        look.complete = look.complete && rendered.complete;
        return rendered.image;
    }
    ViewFrame frame = look.frame;
    frame.pan(-QPointF(part_of_cell.topLeft()));
    const Rendered rendered = render_photograph(tiles_, shown.pyramid, shown.placement, frame, part_of_cell.size());
    look.complete = look.complete && rendered.complete;
    return rendered.image;
}

void CompareCanvas::paint_beside(QPainter& painter, Look& look) {
    const auto all = cells(look.enlarged);
    for (std::size_t i = 0; i < all.size(); ++i) {
        const QImage image = picture(i, {{}, all[i].size().toSize()}, look);
        const bool mirrored = is_seen_mirrored(i);
        painter.drawImage(all[i].topLeft(), mirrored ? image.mirrored(true, false) : image);
        paint_label(painter, all[i], i, true, look.enlarged);
        if (look.with_pointer) paint_pointer(painter, all[i], mirrored);
    }
}

// Each on its side of the line; no more of either is reckoned than the box of its side.
void CompareCanvas::paint_divided(QPainter& painter, QSize cell, Look& look) {
    const QLineF line = divider(cell);
    const QPointF along = line.p2() - line.p1();
    for (const std::size_t photograph : {other_, std::size_t{0}}) {
        const QPointF side = photograph == 0 ? QPointF(-along.y(), along.x()) : QPointF(along.y(), -along.x());
        const QPolygonF half({line.p1(), line.p2(), line.p2() + side, line.p1() + side});
        const QPolygonF in_sight = half.intersected(QPolygonF(QRectF({0, 0}, cell)));
        const QRect part = in_sight.boundingRect().toAlignedRect().intersected(QRect({0, 0}, cell));
        if (part.isEmpty()) continue;
        QPainterPath path;
        path.addPolygon(in_sight);
        painter.save();
        painter.setClipPath(path);
        painter.drawImage(part.topLeft(), picture(photograph, part, look));
        painter.restore();
    }
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setPen(QPen(QColor(0, 0, 0, 160), 4 * look.enlarged));
    painter.drawLine(line);
    painter.setPen(QPen(Qt::white, 2 * look.enlarged));
    painter.drawLine(line);
}

void CompareCanvas::paint_over(QPainter& painter, Look& look) {
    const QRectF cell = cells(look.enlarged).front();
    const QRect whole({}, cell.size().toSize());
    if (means_ == Means::half_and_half) {
        paint_divided(painter, whole.size(), look);
    } else if (means_ == Means::fade) {
        painter.drawImage(0, 0, picture(0, whole, look));
        painter.setOpacity(fade_share_);
        painter.drawImage(0, 0, picture(other_, whole, look));
        painter.setOpacity(1.0);
    } else {
        painter.drawImage(0, 0, picture(turned_ ? other_ : 0, whole, look));
    }
    const bool both = means_ != Means::turn_over;
    if (both || !turned_) paint_label(painter, cell, 0, true, look.enlarged);
    if (both || turned_) paint_label(painter, cell, other_, false, look.enlarged);
}

void CompareCanvas::paint_label(QPainter& painter, const QRectF& cell, std::size_t photograph, bool left,
                                double enlarged) const {
    const ComparedPhotograph& each = photographs_[photograph];
    QString text = each.shown.label;
    if (each.from_behind)
        text = is_seen_mirrored(photograph) ? tr("%1, the back").arg(text) : tr("%1, the back seen through").arg(text);
    const QRectF box(cell.left() + 14 * enlarged, cell.top() + 8 * enlarged, cell.width() - 28 * enlarged,
                     22 * enlarged);
    const QString fitting =
        painter.fontMetrics().elidedText(text, Qt::ElideRight, static_cast<int>(box.width() * (left ? 1.0 : 0.5)));
    paint_haloed_text(painter, box, (left ? Qt::AlignLeft : Qt::AlignRight) | Qt::AlignVCenter, fitting);
}

// The same place in every cell.
void CompareCanvas::paint_pointer(QPainter& painter, const QRectF& cell, bool mirrored) const {
    const auto under = pointer_ ? cell_at(*pointer_) : std::nullopt;
    if (!under) return;
    const QPointF inside = in_cell(*pointer_, *under);
    const QPointF at = cell.topLeft() + (mirrored ? QPointF(cell.width() - inside.x(), inside.y()) : inside);
    for (const auto& [colour, wide] : {std::pair(QColor(0, 0, 0, 200), 3.5), std::pair(QColor(Qt::white), 1.5)}) {
        painter.setPen(QPen(colour, wide));
        for (const QPointF by : {QPointF(1, 0), QPointF(-1, 0), QPointF(0, 1), QPointF(0, -1)})
            painter.drawLine(at + by * 5, at + by * 14);
    }
}

void CompareCanvas::paint(QPainter& painter, Look& look) {
    QFont font = text_font();
    if (look.enlarged != 1.0) font.setPointSizeF(font.pointSizeF() * look.enlarged);
    painter.setFont(font);
    if (photographs_.size() < 2) return;
    if (means_ == Means::side_by_side) {
        paint_beside(painter, look);
    } else {
        paint_over(painter, look);
    }
    paint_scale_bar(painter, cells(look.enlarged).front(), look.frame, true, look.enlarged);
}

QImage CompareCanvas::painted(double enlarged, bool& complete) {
    QImage image((QSizeF(size()) * enlarged).toSize(), QImage::Format_RGB32);
    image.fill(picture_surround);
    QPainter painter(&image);
    Look look{enlarged, frame_, true, false, false};
    look.frame.zoom(enlarged, {0, 0});
    paint(painter, look);
    complete = look.complete;
    return image;
}

void CompareCanvas::paintEvent(QPaintEvent* /*event*/) {
    QPainter painter(this);
    painter.fillRect(rect(), picture_surround);
    Look look{1.0, frame_, true, true, true};
    rendered_.begin_frame();
    paint(painter, look);
    complete_ = look.complete;
    if (rendered_.are_late()) update();
    if (hasFocus()) {
        painter.setPen(QPen(theme().done, 2));
        painter.setBrush(Qt::NoBrush);
        painter.drawRect(rect().adjusted(1, 1, -2, -2));
    }
}

}  // namespace tedge::desk
