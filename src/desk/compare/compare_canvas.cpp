#include "compare/compare_canvas.hpp"

#include <algorithm>
#include <cmath>

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
    rendered_.forget();
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

void CompareCanvas::resizeEvent(QResizeEvent* /*event*/) {
    if (fitted_) fit();
}

}  // namespace tedge::desk
