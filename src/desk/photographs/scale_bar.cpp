#include "photographs/scale_bar.hpp"

#include <QPainter>

#include "photographs/small_pictures.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

constexpr int bar_height_px = 14;
constexpr int side_px = 16;  // room for half a figure at either end

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
    for (const imaging::LegendTick& tick : legend.ticks) {
        const int x = bar.left() + static_cast<int>(tick.position * (bar.width() - 1));
        painter.drawLine(x, bar.bottom(), x, bar.bottom() + 3);
        painter.drawText(QRect(x - 30, bar.bottom() + 3, 60, fontMetrics().height()), Qt::AlignHCenter | Qt::AlignTop,
                         shown(tick.label));
    }
}

}  // namespace tedge::desk
