#include "easel/overlay_painter.hpp"

#include <QFontMetrics>
#include <QPainter>
#include <QTransform>
#include <algorithm>
#include <limits>
#include <utility>

#include "theme.hpp"

namespace tedge::desk {

namespace {

constexpr double touch_px = 6.0;
constexpr double smallest_shown_px = 2.0;
constexpr double behind_width_px = 0.9;

QPainterPath path_of(const Region& region) {
    QPainterPath path;
    path.setFillRule(Qt::OddEvenFill);
    const Region::Outline outline = region.outline();
    for (const auto* lines : {&outline.rings, &outline.lines}) {
        for (const auto& line : *lines) {
            path.moveTo(line.front().x_mm, line.front().y_mm);
            for (std::size_t i = 1; i < line.size(); ++i) path.lineTo(line[i].x_mm, line[i].y_mm);
        }
    }
    for (const PointMm& p : outline.points) path.addEllipse(QPointF(p.x_mm, p.y_mm), 1.0, 1.0);
    return path;
}

QVector<qreal> dashes_of(OverlayStyle style) {
    switch (style) {
        case OverlayStyle::unstable:
            return {2, 2};
        case OverlayStyle::finding:
            return {6, 3};
        case OverlayStyle::facing:
            return {10, 3, 2, 3};
        case OverlayStyle::inscription:
            return {1, 3};
        case OverlayStyle::treatment:
            return {12, 4};
        case OverlayStyle::pending:
            return {4, 6};
        case OverlayStyle::trial:
            return {};
    }
    return {};
}

void paint_label(QPainter& painter, QPointF at, const QString& text, QList<QRectF>& taken) {
    if (text.isEmpty()) return;
    QFont font = text_font();
    font.setPointSizeF(9);
    font.setBold(true);
    painter.setFont(font);
    const QFontMetrics metrics(font);
    const QSizeF size(metrics.horizontalAdvance(text) + 8, metrics.height() + 2);
    const QRectF box = label_box({at - QPointF(0, size.height()), size}, painter.window(), taken);
    taken.append(box);
    painter.setPen(Qt::NoPen);
    painter.setBrush(Qt::white);
    painter.drawRect(box);
    painter.setPen(Qt::black);
    painter.drawText(box, Qt::AlignCenter, text);
}

}  // namespace

QRectF label_box(QRectF wanted, const QRectF& window, const QList<QRectF>& taken) {
    constexpr int farthest = 6;  // places away: then a number would not be looked for beside its place any more
    wanted.moveLeft(std::clamp(wanted.left(), window.left(), std::max(window.left(), window.right() - wanted.width())));
    wanted.moveTop(std::clamp(wanted.top(), window.top(), std::max(window.top(), window.bottom() - wanted.height())));
    const auto is_free = [&](const QRectF& box) {
        return window.contains(box) &&
               std::ranges::none_of(taken, [&](const QRectF& other) { return other.intersects(box); });
    };
    for (int away = 0; away <= farthest; ++away) {
        for (int row = -away; row <= away; ++row) {
            for (int column = -away; column <= away; ++column) {
                if (std::max(std::abs(row), std::abs(column)) != away) continue;
                const QRectF box = wanted.translated(column * (wanted.width() + 1), row * (wanted.height() + 1));
                if (is_free(box)) return box;
            }
        }
    }
    return wanted;
}

void OverlayPainter::set(std::vector<Overlay> overlays) {
    drawn_.clear();
    for (Overlay& overlay : overlays) {
        const QPainterPath path = path_of(overlay.region);
        const BoxMm bounds = overlay.region.bounds();
        drawn_.push_back({std::move(overlay), path, bounds});
    }
}

void OverlayPainter::paint(QPainter& painter, const ViewFrame& frame, const std::optional<Uuid>& highlighted,
                           bool all) const {
    const QPointF origin = frame.to_screen({0, 0});
    const double scale = frame.screen_px_per_mm();
    const QTransform screen_from_mm(scale, 0, 0, scale, origin.x(), origin.y());
    const QRectF window(painter.window());
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setBrush(Qt::NoBrush);
    std::vector<std::pair<QPointF, QString>> labels;
    for (const Drawn& drawn : drawn_) {
        const QRectF box(frame.to_screen(drawn.bounds.min), frame.to_screen(drawn.bounds.max));
        if (!box.adjusted(-20, -20, 20, 20).intersects(window)) continue;
        const bool pending = drawn.overlay.style == OverlayStyle::pending;
        const bool chosen = pending || highlighted == drawn.overlay.record;
        if (!all && !chosen) continue;
        // Too small to be made out: a dot stands for it.
        if (!chosen && box.width() < smallest_shown_px && box.height() < smallest_shown_px) {
            painter.fillRect(QRectF(box.center() - QPointF(1, 1), QSizeF(2, 2)), Qt::white);
            continue;
        }
        const QPainterPath path = screen_from_mm.map(drawn.path_mm);
        const QPen halo(QColor(0, 0, 0, 190), chosen ? 6 : drawn.overlay.from_behind ? 2 : 4);
        QPen line(chosen ? QColor("#FFE9A8") : QColor(Qt::white), chosen ? 3 : 1.8);
        const QVector<qreal> dashes = dashes_of(drawn.overlay.style);
        if (!dashes.isEmpty()) line.setDashPattern(dashes);
        // What lies behind is drawn thin: it is not on this paint.
        if (drawn.overlay.from_behind && !chosen) line.setWidthF(behind_width_px);
        painter.strokePath(path, halo);
        painter.strokePath(path, line);
        labels.emplace_back(box.topLeft(), drawn.overlay.label);
    }
    // Last, so that no outline runs through a number.
    QList<QRectF> taken;
    for (const auto& [at, label] : labels) paint_label(painter, at, label, taken);
}

std::optional<Uuid> OverlayPainter::hit(PointMm point, const ViewFrame& frame) const {
    const double reach_mm = touch_px / frame.screen_px_per_mm();
    const Region spot = Region::point(point).value_or(Region());
    std::optional<Uuid> best;
    std::pair best_rank{true, std::numeric_limits<double>::infinity()};
    for (const Drawn& drawn : drawn_) {
        const BoxMm& b = drawn.bounds;
        if (point.x_mm < b.min.x_mm - reach_mm || point.x_mm > b.max.x_mm + reach_mm ||
            point.y_mm < b.min.y_mm - reach_mm || point.y_mm > b.max.y_mm + reach_mm) {
            continue;
        }
        if (drawn.overlay.style == OverlayStyle::pending) continue;
        const std::pair rank{drawn.overlay.from_behind, drawn.overlay.region.area_mm2()};
        if (rank >= best_rank || !drawn.overlay.region.within_margin(spot, reach_mm)) continue;
        best = drawn.overlay.record;
        best_rank = rank;
    }
    return best;
}

const Overlay* OverlayPainter::find(const Uuid& record) const {
    for (const Drawn& drawn : drawn_) {
        if (drawn.overlay.record == record) return &drawn.overlay;
    }
    return nullptr;
}

}  // namespace tedge::desk
