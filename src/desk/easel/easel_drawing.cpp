// Drawing on the picture: corner by corner, or dragged as a rectangle.
#include <QPainter>
#include <algorithm>
#include <cmath>

#include "easel/easel.hpp"
#include "easel/picture_marks.hpp"
#include "forms/place_row.hpp"
#include "tedge/base/number_text.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

// A gloved finger that means a point moves a few millimetres of the glass before it is lifted.
constexpr double rectangle_begins_px = 12;
constexpr double least_side_px = 6;  // a flatter one was a click that slipped

std::size_t points_of(Tool tool) {
    switch (tool) {
        case Tool::corners:
            return 4;
        case Tool::pixel_box:
        case Tool::pixel_length:
            return 2;
        default:
            return 0;  // as many as somebody likes
    }
}

std::vector<PointMm> rectangle(PointMm a, PointMm b) {
    return {a, {b.x_mm, a.y_mm}, b, {a.x_mm, b.y_mm}};
}

}  // namespace

void Easel::paint_drawing(QPainter& painter) const {
    if (tool_ == Tool::look || drawn_.empty()) return;
    const bool is_box = dragging_rectangle_ || tool_ == Tool::pixel_box;
    if (is_box) return paint_dragged(painter);
    QPolygonF line;
    for (const PointMm& p : drawn_) line << frame_.to_screen(p);
    line << pointer_;
    painter.setBrush(Qt::NoBrush);
    painter.setPen(QPen(QColor(0, 0, 0, 190), 4));
    painter.drawPolyline(line);
    painter.setPen(QPen(Qt::white, 2));
    painter.drawPolyline(line);
    for (const QPointF& corner : line) painter.drawEllipse(corner, 4, 4);
}

void Easel::paint_dragged(QPainter& painter) const {
    const QRectF box = QRectF(frame_.to_screen(drawn_.front()), pointer_).normalized();
    painter.setBrush(QColor(255, 255, 255, 40));
    painter.setPen(QPen(QColor(0, 0, 0, 190), 4));
    painter.drawRect(box);
    painter.setPen(QPen(Qt::white, 2));
    painter.drawRect(box);
    // Above it, or within where there is no room.
    const double high = painter.fontMetrics().height() + 4;
    const double top = box.top() > high ? box.top() - high : box.top() + 4;
    const QRectF beside(std::clamp(box.left(), 4.0, std::max(4.0, width() - 220.0)), top, 216, high);
    paint_haloed_text(painter, beside, Qt::AlignLeft | Qt::AlignVCenter, dragged_size());
}

QString Easel::dragged_size() const {
    if (drawn_.empty()) return {};
    const PointMm to = frame_.to_face(pointer_);
    const auto region = Region::polygon(rectangle(drawn_.front(), to));
    if (is_in_mm()) return region ? size_text(*region) : QString();
    return tr("%1 × %2 px")
        .arg(shown(format_fixed(std::abs(to.x_mm - drawn_.front().x_mm), 0)),
             shown(format_fixed(std::abs(to.y_mm - drawn_.front().y_mm), 0)));
}

void Easel::begin_dragging(QPointF at) {
    add_corner(at);
    const bool can_drag = (tool_ == Tool::polygon || tool_ == Tool::pixel_box) && drawn_.size() == 1;
    rectangle_from_ = can_drag ? std::optional(at) : std::nullopt;
}

void Easel::drag_to(QPointF at) {
    if (!rectangle_from_) return;
    const QPointF by = at - *rectangle_from_;
    if (std::max(std::abs(by.x()), std::abs(by.y())) >= rectangle_begins_px) dragging_rectangle_ = true;
}

bool Easel::end_dragging(QPointF at) {
    const bool was_dragging = dragging_rectangle_ && rectangle_from_;
    const QPointF by = was_dragging ? at - *rectangle_from_ : QPointF();
    rectangle_from_.reset();
    dragging_rectangle_ = false;
    update();
    if (!was_dragging || std::min(std::abs(by.x()), std::abs(by.y())) < least_side_px) return false;
    add_corner(at);
    if (tool_ != Tool::polygon) return true;  // two corners of a box in pixels were all it took
    drawn_ = rectangle(drawn_.front(), drawn_.back());
    finish_drawing();
    return true;
}

void Easel::add_corner(QPointF at) {
    coarsest_pick_ = std::max(drawn_.empty() ? 0.0 : coarsest_pick_, 1 / frame_.screen_px_per_mm());
    drawn_.push_back(frame_.to_face(at));
    emit corner_count(static_cast<int>(drawn_.size()));
    if (drawn_.size() == points_of(tool_)) finish_drawing();
    update();
}

// The view's units begin at the pixel's edge, photographs count from its centre.
std::vector<PointPx> Easel::drawn_pixels() const {
    std::vector<PointPx> pixels;
    for (const PointMm& p : drawn_) pixels.push_back({p.x_mm - 0.5, p.y_mm - 0.5});
    return pixels;
}

void Easel::finish_drawing() {
    if (tool_ == Tool::look) return;
    if (is_in_pixels(tool_)) {
        if (drawn_.size() != points_of(tool_) || !first_) return;
        const bool are_corners = tool_ == Tool::corners;
        const auto pixels = drawn_pixels();
        set_tool(Tool::look);
        if (are_corners) {
            emit corners_picked({pixels[0], pixels[1], pixels[2], pixels[3]}, coarsest_pick_);
        } else {
            emit pixels_picked(pixels);
        }
        return;
    }
    const auto region = Region::polygon(drawn_);
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

}  // namespace tedge::desk
