// What hands do while comparing: wheel, mouse and keys, and what the pointer tells.
#include <QKeyEvent>
#include <QMouseEvent>
#include <QWheelEvent>
#include <algorithm>
#include <cmath>

#include "compare/compare_canvas.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/imaging/colour.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

constexpr double key_zoom = 1.25;
constexpr double key_step_px = 60;
constexpr double divider_reach_px = 10;
constexpr double angle_step_degrees = 15;
constexpr int half_patch_px = 2;  // the colour under the pointer is that of 5 × 5 screen pixels

double distance_to(const QLineF& line, QPointF at) {
    const QPointF along = line.p2() - line.p1();
    const QPointF to = at - line.p1();
    return std::abs(along.x() * to.y() - along.y() * to.x()) / line.length();
}

// The mean colour, in linear light.
imaging::Lab mean_lab(const QImage& image) {
    imaging::Rgb sum;
    for (int y = 0; y < image.height(); ++y) {
        for (int x = 0; x < image.width(); ++x) {
            const QRgb pixel = image.pixel(x, y);
            sum.r += imaging::srgb_decoded(qRed(pixel) / 255.0);
            sum.g += imaging::srgb_decoded(qGreen(pixel) / 255.0);
            sum.b += imaging::srgb_decoded(qBlue(pixel) / 255.0);
        }
    }
    const double count = image.width() * image.height();
    return imaging::lab_from_xyz(imaging::xyz_from_linear_srgb({sum.r / count, sum.g / count, sum.b / count}));
}

QString with_sign(double value) {
    return (value < 0 ? QStringLiteral("−") : QStringLiteral("+")) + shown(format_fixed(std::abs(value), 1));
}

}  // namespace

void CompareCanvas::wheelEvent(QWheelEvent* event) {
    pointer_ = event->position();
    zoom_by(std::pow(1.0015, event->angleDelta().y()));
}

void CompareCanvas::mousePressEvent(QMouseEvent* event) {
    pointer_ = event->position();
    held_at_ = event->position();
    const bool at_divider =
        means_ == Means::half_and_half && distance_to(divider(QSizeF(size())), *pointer_) < divider_reach_px;
    held_ = at_divider ? Held::divider : Held::picture;
}

void CompareCanvas::mouseMoveEvent(QMouseEvent* event) {
    const QPointF at = event->position();
    if (held_ == Held::divider) {
        const QLineF line = divider(QSizeF(size()));
        const QPointF along = (line.p2() - line.p1()) / line.length();
        const QPointF across(along.y(), -along.x());
        const double reach = (std::abs(across.x()) * width() + std::abs(across.y()) * height()) / 2;
        const double from_middle = QPointF::dotProduct(at - QPointF(width(), height()) / 2, across);
        divider_share_ = std::clamp(0.5 + from_middle / (2 * reach), 0.02, 0.98);
    } else if (held_ == Held::picture) {
        QPointF by = at - held_at_;
        const auto cell = cell_at(held_at_);
        if (cell && is_seen_mirrored(*cell)) by.setX(-by.x());
        frame_.pan(by);
        fitted_ = false;
    }
    held_at_ = at;
    pointer_ = at;
    tell_pointer();
    update();
}

void CompareCanvas::mouseReleaseEvent(QMouseEvent* /*event*/) {
    held_ = Held::nothing;
}

void CompareCanvas::leaveEvent(QEvent* /*event*/) {
    pointer_.reset();
    emit pointer_at({}, {});
    update();
}

void CompareCanvas::keyPressEvent(QKeyEvent* event) {
    const auto pan = [this](double x, double y) {
        frame_.pan({x, y});
        fitted_ = false;
        update();
    };
    switch (event->key()) {
        case Qt::Key_B:
            return emit means_wanted(Means::side_by_side);
        case Qt::Key_H:
            return emit means_wanted(Means::half_and_half);
        case Qt::Key_T:
            return emit means_wanted(Means::turn_over);
        case Qt::Key_F:
            return emit means_wanted(Means::fade);
        case Qt::Key_BracketLeft:
            return set_angle(std::remainder(angle_degrees_ - angle_step_degrees, 360.0));
        case Qt::Key_BracketRight:
            return set_angle(std::remainder(angle_degrees_ + angle_step_degrees, 360.0));
        case Qt::Key_Space:  // the other one by hand, whatever the rate
            if (means_ == Means::turn_over) {
                turning_.stop();
                turned_ = !turned_;
                update();
            }
            return;
        case Qt::Key_Plus:
        case Qt::Key_Equal:
            return zoom_by(key_zoom);
        case Qt::Key_Minus:
            return zoom_by(1 / key_zoom);
        case Qt::Key_0:
        case Qt::Key_Home:
            return fit();
        case Qt::Key_1:
            return show_pixels();
        case Qt::Key_Left:
            return pan(key_step_px, 0);
        case Qt::Key_Right:
            return pan(-key_step_px, 0);
        case Qt::Key_Up:
            return pan(0, key_step_px);
        case Qt::Key_Down:
            return pan(0, -key_step_px);
        default:
            return QWidget::keyPressEvent(event);
    }
}

// Nothing where the photograph does not reach, and while its tiles are fetched.
std::optional<imaging::Lab> CompareCanvas::lab_at(std::size_t photograph, QPointF in_cell) {
    const ComparedPhotograph& each = photographs_[photograph];
    const auto pixel = each.shown.placement ? each.shown.placement->to_photo(frame_.to_face(in_cell))
                                            : Expected<PointPx>(fail("", "", ""));
    const auto [width, height] = each.shown.size;
    if (!each.shows_colour || !pixel || pixel->x_px < 0 || pixel->y_px < 0 || pixel->x_px > width - 1 ||
        pixel->y_px > height - 1)
        return std::nullopt;
    Look look{1.0, frame_, true, false};
    const QPoint corner = in_cell.toPoint() - QPoint(half_patch_px, half_patch_px);
    const QImage patch = picture(photograph, {corner, QSize(2 * half_patch_px + 1, 2 * half_patch_px + 1)}, look);
    return look.complete ? std::optional(mean_lab(patch)) : std::nullopt;
}

QString CompareCanvas::colour_at(QPointF in_cell) {
    if (photographs_.size() < 2) return {};
    const auto first = lab_at(0, in_cell);
    const auto other = first ? lab_at(other_, in_cell) : std::nullopt;
    if (!other) return {};
    return tr("ΔE00 %1 (ΔL* %2, Δa* %3, Δb* %4)")
        .arg(shown(format_fixed(imaging::delta_e00(*first, *other), 1)), with_sign(other->l - first->l),
             with_sign(other->a - first->a), with_sign(other->b - first->b));
}

void CompareCanvas::tell_pointer() {
    const auto cell = pointer_ ? cell_at(*pointer_) : std::nullopt;
    if (!cell) return;
    const QPointF inside = in_cell(*pointer_, *cell);
    const PointMm p = frame_.to_face(inside);
    emit pointer_at(tr("x %1  y %2 mm").arg(shown(format_fixed(p.x_mm, 1)), shown(format_fixed(p.y_mm, 1))),
                    colour_at(inside));
}

}  // namespace tedge::desk
