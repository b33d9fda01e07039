#include "ceiling/profit_chart.hpp"

#include <QAreaSeries>
#include <QChart>
#include <QLineSeries>
#include <QValueAxis>
#include <algorithm>
#include <cmath>

#include "ceiling/chart_look.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

constexpr int height_px = 240;

double major(const Money& money) {
    return static_cast<double>(money.minor) / static_cast<double>(money.currency.minor_per_major());
}

QLineSeries* line_of(const std::vector<money::ProfitAtHammer>& points, auto value, QObject* parent) {
    auto* line = new QLineSeries(parent);
    for (const money::ProfitAtHammer& point : points) line->append(major(point.hammer), major(value(point)));
    return line;
}

// The limit, or the line between winning and losing.
void draw_rule(QPointF from, QPointF to, const QColor& colour, Qt::PenStyle style, QChart& chart) {
    auto* line = new QLineSeries(&chart);
    line->append(from);
    line->append(to);
    line->setPen(QPen(colour, 1.6, style));
    chart.addSeries(line);
}

}  // namespace

ProfitChart::ProfitChart(QWidget* parent) : QChartView(bare_chart(), parent) {
    setMinimumHeight(height_px);
    setMaximumHeight(height_px);
    setRenderHint(QPainter::Antialiasing);
    setFrameShape(QFrame::NoFrame);
    setAccessibleName(tr("Profit against hammer price"));
    hide();
}

void ProfitChart::show_curve(const std::vector<money::ProfitAtHammer>& points, const std::optional<Money>& limit) {
    setVisible(points.size() > 1);
    QChart& drawn = *chart();
    drawn.removeAllSeries();
    for (QAbstractAxis* axis : drawn.axes()) drawn.removeAxis(axis);
    if (points.size() < 2) return;
    const Theme& look = theme();

    auto* band = new QAreaSeries(line_of(
                                     points, [](const auto& p) { return p.quantiles.p95; }, &drawn),
                                 line_of(points, [](const auto& p) { return p.quantiles.p5; }, &drawn));
    QColor faint = look.done;
    faint.setAlphaF(0.22F);
    band->setBrush(faint);
    band->setPen(Qt::NoPen);
    drawn.addSeries(band);
    auto* expected = line_of(points, [](const auto& p) { return p.expected_profit; }, &drawn);
    expected->setPen(QPen(look.done, 2.4));
    drawn.addSeries(expected);

    const auto [least, most] =
        std::ranges::minmax_element(points, {}, [](const auto& p) { return p.quantiles.p5.minor; });
    const auto highest = std::ranges::max_element(points, {}, [](const auto& p) { return p.quantiles.p95.minor; });
    const double low = std::min(0.0, major(least->quantiles.p5)), high = std::max(0.0, major(highest->quantiles.p95));
    const double from = major(points.front().hammer), to = major(points.back().hammer);
    draw_rule({from, 0}, {to, 0}, look.ink, Qt::SolidLine, drawn);
    if (limit && major(*limit) >= from && major(*limit) <= to)
        draw_rule({major(*limit), low}, {major(*limit), high}, look.closed, Qt::DashLine, drawn);
    lay_axes(drawn, {from, to, tr("hammer price, %1").arg(shown(points.front().hammer.currency.code()))},
             {low, high, tr("profit")});
}

}  // namespace tedge::desk
