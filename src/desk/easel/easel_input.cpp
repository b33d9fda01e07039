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
    if (tool_ != Tool::look && event->button() == Qt::LeftButton) return add_corner(event->position());
    moving_divider_ = compare_ == Compare::half_and_half &&
                      std::abs(event->position().x() - width() * divider_share_) < divider_reach_px;
    dragged_from_ = event->position();
    dragged_ = false;
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
    tell_pointer(at);
    update();
}

void Easel::mouseReleaseEvent(QMouseEvent* event) {
    if (tool_ == Tool::rectangle && drawn_.size() == 1 &&
        (event->position() - frame_.to_screen(drawn_[0])).manhattanLength() > 2 * drag_begins_px) {
        add_corner(event->position());
    } else if (dragged_from_ && !dragged_ && !moving_divider_ && tool_ == Tool::look && shows_places_) {
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

void Easel::add_corner(QPointF at) {
    coarsest_pick_ = std::max(drawn_.empty() ? 0.0 : coarsest_pick_, 1 / frame_.screen_px_per_mm());
    drawn_.push_back(frame_.to_face(at));
    emit corner_count(static_cast<int>(drawn_.size()));
    const bool full =
        (tool_ == Tool::rectangle && drawn_.size() == 2) || (tool_ == Tool::corners && drawn_.size() == 4);
    if (full) finish_drawing();
    update();
}

// The view's units begin at the pixel's edge while corners are picked, photographs count from its centre.
std::array<PointPx, 4> Easel::drawn_corners() const {
    std::array<PointPx, 4> corners;
    for (std::size_t i = 0; i < 4; ++i) corners[i] = {drawn_[i].x_mm - 0.5, drawn_[i].y_mm - 0.5};
    return corners;
}

void Easel::finish_drawing() {
    if (tool_ == Tool::look) return;
    if (tool_ == Tool::corners) {
        if (drawn_.size() != 4 || !first_) return;
        const auto corners = drawn_corners();
        set_tool(Tool::look);
        emit corners_picked(corners, coarsest_pick_);
        return;
    }
    const auto region =
        tool_ == Tool::rectangle && drawn_.size() == 2
            ? Region::polygon(
                  {drawn_[0], {drawn_[1].x_mm, drawn_[0].y_mm}, drawn_[1], {drawn_[0].x_mm, drawn_[1].y_mm}})
            : Region::polygon(drawn_);
    if (!region) {
        emit pointer_at(shown(region.error().message + " " + region.error().next));
        return;
    }
    set_tool(Tool::look);
    emit region_drawn(*region);
}

void Easel::give_up_drawing() {
    set_tool(Tool::look);
    emit drawing_given_up();
}

void Easel::tell_pointer(QPointF at) {
    const PointMm p = frame_.to_face(at);
    const QString unit = is_in_mm() ? QStringLiteral("mm") : QStringLiteral("px");
    emit pointer_at(
        QStringLiteral("x %1  y %2 %3").arg(shown(format_fixed(p.x_mm, 1)), shown(format_fixed(p.y_mm, 1)), unit));
}

}  // namespace tedge::desk
