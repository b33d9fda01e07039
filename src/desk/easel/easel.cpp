#include "easel/easel.hpp"

#include <QPainter>

#include "easel/picture_marks.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

constexpr double faint = 0.4;  // enough to see edges of both

// Both photographs' widths coincide, and their middles: from pixel centres of the second to the units of the first,
// which begin at the pixel's edge.
Placement frame_on_frame(SizePx moved, SizePx onto) {
    const double scale = static_cast<double>(onto.width_px) / moved.width_px;
    const double down = (onto.height_px - scale * moved.height_px) / 2;
    Placement placement;
    placement.face_from_photo =
        Homography::from_row_major({scale, 0, scale / 2, 0, scale, scale / 2 + down, 0, 0, 1}).value();
    return placement;
}

}  // namespace

Easel::Easel(QWidget* parent) : QWidget(parent) {
    pointer_ = {-1, -1};  // nowhere yet: keys zoom about the middle
    setFocusPolicy(Qt::StrongFocus);
    setMouseTracking(true);
    setMinimumSize(260, 200);
    setAccessibleName(tr("Easel"));
    setAccessibleDescription(
        tr("The picture. Plus and minus zoom, arrows move, 0 fits, V turns to the other side, H half and half, T held "
           "shows the second photograph in place of the first, D compares their colours, P shows and hides the "
           "places, C opens the comparison of several, F lays the earlier photograph faintly over this one."));
    connect(&tiles_, &TileStore::tile_arrived, this, qOverload<>(&QWidget::update));
}

SizeMm Easel::units() const {
    if (is_in_mm()) return face_;
    if (first_) return {static_cast<double>(first_->size.width_px), static_cast<double>(first_->size.height_px)};
    return face_;
}

void Easel::show_face(SizeMm size) {
    if (face_ == size) return;
    face_ = size;
    fit();
}

void Easel::show_photographs(std::optional<ShownPhotograph> first, std::optional<ShownPhotograph> second) {
    const SizeMm before = units();
    first_ = std::move(first);
    second_ = std::move(second);
    tiles_.forget_requests();
    if (units() != before) fit();
    update();
}

void Easel::show_overlays(std::vector<Overlay> overlays) {
    overlays_.set(std::move(overlays));
    update();
}

void Easel::show_places(bool are_shown) {
    shows_places_ = are_shown;
    if (!are_shown) highlighted_.reset();
    update();
}

void Easel::highlight(const std::optional<Uuid>& record) {
    highlighted_ = record;
    const Overlay* overlay = record ? overlays_.find(*record) : nullptr;
    // A picture that is seen whole shows every place already: it is not pulled away from under the eye.
    if (overlay != nullptr && !fitted_) {
        const QPointF at = frame_.to_screen(overlay->region.label_point());
        if (!QRectF(rect()).adjusted(30, 30, -30, -30).contains(at))
            frame_.centre_on(overlay->region.label_point(), size());
    }
    update();
}

void Easel::set_tool(Tool tool) {
    const SizeMm before = units();
    tool_ = tool;
    drawn_.clear();
    rectangle_from_.reset();
    dragging_rectangle_ = false;
    if (units() != before) fit();
    setCursor(tool == Tool::look ? Qt::ArrowCursor : Qt::CrossCursor);
    if (tool != Tool::look) setFocus();
    update();
}

void Easel::set_compare(Compare compare) {
    const SizeMm before = units();
    compare_ = compare;
    if (units() != before) fit();
    update();
}

void Easel::fit() {
    frame_.fit(units(), size());
    fitted_ = true;
    tell_moved_view();
}

void Easel::zoom_by(double factor) {
    frame_.zoom(factor, rect().contains(pointer_.toPoint()) ? pointer_ : QPointF(rect().center()));
    fitted_ = false;
    tiles_.forget_requests();
    tell_moved_view();
}

QImage Easel::picture(const std::optional<ShownPhotograph>& photo) {
    if (!photo) return {};
    // A photograph that is not placed has no millimetres: it is shown in its own pixels, and only alone.
    const Rendered rendered =
        render_photograph(tiles_, photo->pyramid, is_in_mm() ? photo->placement : std::nullopt, frame_, size());
    complete_ = complete_ && rendered.complete;
    return rendered.image;
}

void Easel::paint_framing(QPainter& painter) {
    painter.drawImage(0, 0, picture(first_));
    paint_side_label(painter, first_->label, true);
    if (!second_ || second_->size.width_px <= 0) return;
    const Rendered over =
        render_photograph(tiles_, second_->pyramid, frame_on_frame(second_->size, first_->size), frame_, size());
    complete_ = complete_ && over.complete;
    painter.setOpacity(faint);
    painter.drawImage(0, 0, over.image);
    painter.setOpacity(1);
    paint_side_label(painter, tr("faintly: %1").arg(second_->label), false);
}

void Easel::paint_pictures(QPainter& painter) {
    complete_ = true;
    if (compare_ == Compare::framing && first_) return paint_framing(painter);
    if (!comparable() || compare_ == Compare::none) {
        painter.drawImage(0, 0, picture(first_));
        if (first_) paint_side_label(painter, first_->label, true);
        return;
    }
    if (compare_ == Compare::turn_over) {
        painter.drawImage(0, 0, picture(second_));
        paint_side_label(painter, second_->label, false);
        return;
    }
    const int split = static_cast<int>(width() * divider_share_);
    const QImage left = picture(first_);
    const QImage right = picture(second_);
    painter.drawImage(QRect(0, 0, split, height()), left, QRect(0, 0, split, height()));
    painter.drawImage(QRect(split, 0, width() - split, height()), right, QRect(split, 0, width() - split, height()));
    painter.setPen(QPen(QColor(0, 0, 0, 160), 4));
    painter.drawLine(split, 0, split, height());
    painter.setPen(QPen(Qt::white, 2));
    painter.drawLine(split, 0, split, height());
    painter.setBrush(Qt::white);
    painter.drawEllipse(QPointF(split, height() / 2.0), 9, 9);
    paint_side_label(painter, first_->label, true);
    paint_side_label(painter, second_->label, false);
}

void Easel::paint_side_label(QPainter& painter, const QString& text, bool left) const {
    const QRectF box(14, 10, width() - 28, 22);
    paint_haloed_text(painter, box, (left ? Qt::AlignLeft : Qt::AlignRight) | Qt::AlignVCenter, text);
}

void Easel::paint_scale(QPainter& painter) const {
    if (first_) paint_scale_bar(painter, rect(), frame_, is_in_mm());
}

void Easel::paintEvent(QPaintEvent* /*event*/) {
    QPainter painter(this);
    painter.fillRect(rect(), picture_surround);
    painter.setFont(text_font());
    paint_pictures(painter);
    if (is_in_mm()) overlays_.paint(painter, frame_, highlighted_, shows_places_);
    paint_drawing(painter);
    paint_scale(painter);
    if (!first_) {
        paint_haloed_text(painter, rect(), Qt::AlignCenter, tr("No photograph of this face yet.\nDrop one here."));
    }
    if (hasFocus()) {
        painter.setPen(QPen(theme().done, 2));
        painter.setBrush(Qt::NoBrush);
        painter.drawRect(rect().adjusted(1, 1, -2, -2));
    }
}

void Easel::resizeEvent(QResizeEvent* /*event*/) {
    if (fitted_) fit();
}

}  // namespace tedge::desk
