#include "compare/compare_canvas.hpp"

#include <QPainter>
#include <QPainterPath>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "easel/picture_marks.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

constexpr double gap_px = 4.0;
constexpr int turns_begin_ms = 1000;

// The largest side of `inner` that fits.
double scale_in(QSizeF cell, SizeMm face) {
    return std::min(cell.width() / face.width_mm, cell.height() / face.height_mm);
}

}  // namespace

std::vector<QRectF> cells_for(const QRectF& whole, int count, SizeMm face) {
    if (count < 1 || !(face.width_mm > 0) || !(face.height_mm > 0)) return {};
    const auto cell_size = [&](int columns) {
        const int rows = (count + columns - 1) / columns;
        return QSizeF((whole.width() - gap_px * (columns - 1)) / columns,
                      (whole.height() - gap_px * (rows - 1)) / rows);
    };
    int best = 1;
    for (int columns = 2; columns <= count; ++columns) {
        if (scale_in(cell_size(columns), face) > scale_in(cell_size(best), face)) best = columns;
    }
    const QSizeF size = cell_size(best);
    std::vector<QRectF> cells;
    for (int i = 0; i < count; ++i) {
        const QPointF corner((i % best) * (size.width() + gap_px), (i / best) * (size.height() + gap_px));
        cells.emplace_back(whole.topLeft() + corner, size);
    }
    return cells;
}

CompareCanvas::CompareCanvas(QWidget* parent) : QWidget(parent) {
    setFocusPolicy(Qt::StrongFocus);
    setMouseTracking(true);
    setMinimumSize(320, 240);
    setAccessibleName(tr("Photographs compared"));
    setAccessibleDescription(
        tr("Plus and minus zoom, arrows move, 0 fits, 1 shows the photograph's own pixels; B beside "
           "one another, H half and half, T turning, F fading; the brackets turn the dividing "
           "line."));
    connect(&tiles_, &TileStore::tile_arrived, this, &CompareCanvas::look_again);
    turning_.setInterval(turns_begin_ms);
    connect(&turning_, &QTimer::timeout, this, [this] {
        turned_ = !turned_;
        update();
    });
}

void CompareCanvas::look_again() {
    update();
    emit tiles_arrived();
}

void CompareCanvas::show_photographs(SizeMm face, std::vector<ComparedPhotograph> photographs) {
    fitted_ = fitted_ || face_ != face;
    change_cells([&] {
        face_ = face;
        photographs_ = std::move(photographs);
    });
    other_ = 1;
    tiles_.forget_requests();
    update();
}

void CompareCanvas::change_cells(const std::function<void()>& change) {
    const auto middle_of_cell = [this] { return QRectF({0, 0}, cells().front().size()).center(); };
    const auto middle = cells().empty() ? std::nullopt : std::optional(frame_.to_face(middle_of_cell()));
    change();
    if (fitted_ || !middle) return fit();
    if (!cells().empty()) frame_.centre_on(*middle, cells().front().size());
}

void CompareCanvas::set_means(Means means) {
    change_cells([&] { means_ = means; });
    turned_ = false;
    if (means == Means::turn_over) {
        turning_.start();
    } else {
        turning_.stop();
    }
    update();
}

void CompareCanvas::set_other(std::size_t index) {
    if (index > 0 && index < photographs_.size()) other_ = index;
    update();
}

void CompareCanvas::set_angle(double degrees) {
    if (angle_degrees_ == degrees) return;
    angle_degrees_ = degrees;
    emit angle_changed(degrees);
    update();
}

void CompareCanvas::set_fade(double share) {
    fade_share_ = std::clamp(share, 0.0, 1.0);
    update();
}

void CompareCanvas::set_turns_per_s(double turns) {
    turning_.setInterval(static_cast<int>(1000.0 / std::clamp(turns, 0.1, most_turns_per_s)));
}

void CompareCanvas::fit() {
    fitted_ = true;
    if (!cells().empty()) frame_.fit(face_, cells().front().size());
    update();
}

void CompareCanvas::zoom_by(double factor) {
    if (cells().empty()) return;
    const auto cell = pointer_ ? cell_at(*pointer_) : std::nullopt;
    frame_.zoom(factor, cell ? in_cell(*pointer_, *cell) : QRectF({0, 0}, cells().front().size()).center());
    fitted_ = false;
    tiles_.forget_requests();
    update();
}

void CompareCanvas::show_pixels() {
    if (photographs_.empty() || cells().empty()) return;
    const QPointF middle = QRectF({0, 0}, cells().front().size()).center();
    const auto& placement = photographs_.front().shown.placement;
    const PointMm here = frame_.to_face(middle);
    const auto pixel = placement ? placement->to_photo(here) : Expected<PointPx>(fail("", "", ""));
    if (!pixel) return;
    const PointMm beside = placement->to_face({pixel->x_px + 1, pixel->y_px});
    const double mm_per_px = std::hypot(beside.x_mm - here.x_mm, beside.y_mm - here.y_mm);
    zoom_by(1.0 / (mm_per_px * frame_.screen_px_per_mm()));
}

std::vector<QRectF> CompareCanvas::cells(double enlarged) const {
    const QRectF whole(0, 0, width() * enlarged, height() * enlarged);
    if (means_ != Means::side_by_side) {
        return photographs_.empty() ? std::vector<QRectF>() : std::vector<QRectF>{whole};
    }
    std::vector<QRectF> made = cells_for(rect(), static_cast<int>(photographs_.size()), face_);
    for (QRectF& cell : made) cell = QRectF(cell.topLeft() * enlarged, cell.size() * enlarged);
    return made;
}

std::optional<std::size_t> CompareCanvas::cell_at(QPointF at) const {
    const auto all = cells();
    const auto found = std::ranges::find_if(all, [&](const QRectF& cell) { return cell.contains(at); });
    return found == all.end() ? std::nullopt : std::optional(static_cast<std::size_t>(found - all.begin()));
}

// In one another's place the back is seen through the front.
bool CompareCanvas::is_seen_mirrored(std::size_t photograph) const {
    return means_ == Means::side_by_side && photographs_[photograph].from_behind;
}

QPointF CompareCanvas::in_cell(QPointF at, std::size_t cell) const {
    const QRectF box = cells()[cell];
    const QPointF inside = at - box.topLeft();
    return is_seen_mirrored(cell) ? QPointF(box.width() - inside.x(), inside.y()) : inside;
}

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
    Look look{enlarged, frame_, true, false};
    look.frame.zoom(enlarged, {0, 0});
    paint(painter, look);
    complete = look.complete;
    return image;
}

void CompareCanvas::paintEvent(QPaintEvent* /*event*/) {
    QPainter painter(this);
    painter.fillRect(rect(), picture_surround);
    Look look{1.0, frame_, true, true};
    paint(painter, look);
    complete_ = look.complete;
    if (hasFocus()) {
        painter.setPen(QPen(theme().done, 2));
        painter.setBrush(Qt::NoBrush);
        painter.drawRect(rect().adjusted(1, 1, -2, -2));
    }
}

void CompareCanvas::resizeEvent(QResizeEvent* /*event*/) {
    if (fitted_) fit();
}

}  // namespace tedge::desk
