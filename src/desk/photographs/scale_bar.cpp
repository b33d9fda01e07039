#include "photographs/scale_bar.hpp"

#include <QPainter>
#include <algorithm>

#include "photographs/small_pictures.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

constexpr int bar_height_px = 14;
constexpr int least_gap_px = 4;  // between figures
constexpr int side_px = 16;      // room for half a figure at either end

}  // namespace

ScaleBar::ScaleBar(QWidget* parent) : QWidget(parent) {
    setFixedHeight(bar_height_px + fontMetrics().height() + 4);
    setMinimumWidth(200);
}

void ScaleBar::show_scale(const imaging::DifferenceScale& scale) {
    shown_ = scale;
    setAccessibleName(tr("Scale of the map"));
    setAccessibleDescription(
        tr("From dark blue, no difference, to pale yellow, %1 ΔE00 and more; grey is not compared.").arg(scale.top));
    update();
}

void ScaleBar::paintEvent(QPaintEvent* /*event*/) {
    const QRect bar(side_px, 0, width() - 2 * side_px, bar_height_px);
    if (bar.width() < 2) return;
    const imaging::DifferenceLegend legend = imaging::legend_for(shown_, {bar.width(), bar.height()});
    QPainter painter(this);
    painter.drawImage(bar.topLeft(), to_image(legend.bar));
    painter.setPen(theme().edge);
    painter.drawRect(bar.adjusted(0, 0, -1, -1));
    painter.setPen(theme().ink);
    // From the top down: where there is no room for all figures, the last one is the one that is needed.
    int room_from = width() + least_gap_px;
    for (auto tick = legend.ticks.rbegin(); tick != legend.ticks.rend(); ++tick) {
        const int x = bar.left() + static_cast<int>(tick->position * (bar.width() - 1));
        const QString label = shown(tick->label);
        const int wide = fontMetrics().horizontalAdvance(label);
        const int left = std::min(x - wide / 2, width() - wide);
        painter.drawLine(x, bar.bottom(), x, bar.bottom() + 3);
        if (left + wide + least_gap_px > room_from) continue;
        room_from = left;
        painter.drawText(QPoint(left, bar.bottom() + 3 + fontMetrics().ascent()), label);
    }
}

}  // namespace tedge::desk
