// What hands do at the easel: wheel, mouse and keys.
#include <QKeyEvent>
#include <QMouseEvent>
#include <QWheelEvent>
#include <algorithm>
#include <cmath>

#include "easel/easel.hpp"
#include "tedge/base/number_text.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

constexpr double key_zoom = 1.25;
constexpr double key_step_px = 60;
constexpr double drag_begins_px = 4;
constexpr double divider_reach_px = 10;

}  // namespace

void Easel::wheelEvent(QWheelEvent* event) {
    pointer_ = event->position();
    zoom_by(std::pow(1.0015, event->angleDelta().y()));
}

void Easel::mousePressEvent(QMouseEvent* event) {
    pointer_ = event->position();
    if (tool_ != Tool::look && event->button() == Qt::LeftButton) return begin_dragging(event->position());
    moving_divider_ = compare_ == Compare::half_and_half &&
                      std::abs(event->position().x() - width() * divider_share_) < divider_reach_px;
    dragged_from_ = event->position();
    dragged_ = false;
}

// Millimetres of a pointer that is elsewhere tell nothing.
void Easel::leaveEvent(QEvent*) {
    emit pointer_at({});
}

void Easel::mouseMoveEvent(QMouseEvent* event) {
    const QPointF at = event->position();
    if (moving_divider_) {
        divider_share_ = std::clamp(at.x() / width(), 0.02, 0.98);
    } else if (dragged_from_) {
        dragged_ = dragged_ || (at - *dragged_from_).manhattanLength() > drag_begins_px;
        if (dragged_) {
            frame_.pan(at - *dragged_from_);
            dragged_from_ = at;
            fitted_ = false;
        }
    }
    pointer_ = at;
    drag_to(at);
    tell_pointer(at);
    update();
}

void Easel::mouseReleaseEvent(QMouseEvent* event) {
    if (event->button() == Qt::LeftButton && end_dragging(event->position())) return;
    if (dragged_from_ && !dragged_ && !moving_divider_ && tool_ == Tool::look && shows_places_) {
        if (const auto record = overlays_.hit(frame_.to_face(event->position()), frame_)) emit record_touched(*record);
    }
    dragged_from_.reset();
    moving_divider_ = false;
}

void Easel::mouseDoubleClickEvent(QMouseEvent* /*event*/) {
    if (tool_ == Tool::polygon) finish_drawing();
}

void Easel::keyPressEvent(QKeyEvent* event) {
    switch (event->key()) {
        case Qt::Key_V:
            emit turn_wanted();
            return;
        case Qt::Key_H:
            emit half_wanted();
            return;
        case Qt::Key_D:
            emit difference_wanted();
            return;
        case Qt::Key_C:
            emit comparing_wanted();
            return;
        case Qt::Key_P:
            emit places_wanted();
            return;
        case Qt::Key_F:
            emit framing_wanted();
            return;
        case Qt::Key_T:
            if (event->isAutoRepeat() || !comparable()) return;
            before_turning_ = compare_;
            return set_compare(Compare::turn_over);
        case Qt::Key_Space:
            if (tool_ != Tool::look) add_corner(pointer_);
            return;
        case Qt::Key_Return:
        case Qt::Key_Enter:
            return finish_drawing();
        case Qt::Key_Escape:
            return give_up_drawing();
        case Qt::Key_Backspace:
            if (drawn_.empty()) return;
            drawn_.pop_back();
            emit corner_count(static_cast<int>(drawn_.size()));
            return update();
        case Qt::Key_Plus:
        case Qt::Key_Equal:
        case Qt::Key_Minus:
        case Qt::Key_0:
        case Qt::Key_Home:
        case Qt::Key_Left:
        case Qt::Key_Right:
        case Qt::Key_Up:
        case Qt::Key_Down:
            return key_pressed_for_view(event->key());
        default:
            return QWidget::keyPressEvent(event);
    }
}

void Easel::key_pressed_for_view(int key) {
    if (key == Qt::Key_Plus || key == Qt::Key_Equal) return zoom_by(key_zoom);
    if (key == Qt::Key_Minus) return zoom_by(1 / key_zoom);
    if (key == Qt::Key_0 || key == Qt::Key_Home) return fit();
    const double x = key == Qt::Key_Left ? key_step_px : key == Qt::Key_Right ? -key_step_px : 0;
    const double y = key == Qt::Key_Up ? key_step_px : key == Qt::Key_Down ? -key_step_px : 0;
    frame_.pan({x, y});
    fitted_ = false;
    tell_pointer(pointer_);
    update();
}

void Easel::keyReleaseEvent(QKeyEvent* event) {
    if (event->key() == Qt::Key_T && !event->isAutoRepeat() && compare_ == Compare::turn_over)
        return set_compare(before_turning_);
    QWidget::keyReleaseEvent(event);
}

// What lies under a pointer that rests has changed: the size of what is being dragged is told anew.
void Easel::tell_moved_view() {
    if (dragging_rectangle_) tell_pointer(pointer_);
    update();
}

void Easel::tell_pointer(QPointF at) {
    if (dragging_rectangle_) return emit pointer_at(dragged_size());
    const PointMm p = frame_.to_face(at);
    const QString unit = is_in_mm() ? QStringLiteral("mm") : QStringLiteral("px");
    emit pointer_at(
        QStringLiteral("x %1  y %2 %3").arg(shown(format_fixed(p.x_mm, 1)), shown(format_fixed(p.y_mm, 1)), unit));
}

}  // namespace tedge::desk
