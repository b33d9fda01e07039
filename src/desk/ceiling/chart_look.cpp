#include "ceiling/chart_look.hpp"

#include <QCategoryAxis>
#include <QChart>
#include <QGraphicsLayout>
#include <QLegend>
#include <cmath>

#include "tedge/base/number_text.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

// 1, 2 or 5 times a power of ten, so that about four lie in the span.
double round_step(double span) {
    const double rough = std::max(span, 1e-9) / 4.0;
    const double power = std::pow(10.0, std::floor(std::log10(rough)));
    for (const double times : {1.0, 2.0, 5.0}) {
        if (rough <= times * power) return times * power;
    }
    return 10.0 * power;
}

QCategoryAxis* axis_over(const AxisOver& over) {
    const Theme& look = theme();
    auto* axis = new QCategoryAxis;
    axis->setRange(over.from, over.to);
    axis->setStartValue(over.from);
    axis->setLabelsPosition(QCategoryAxis::AxisLabelsPositionOnValue);
    const double step = round_step(over.to - over.from);
    for (double at = std::ceil(over.from / step) * step; at <= over.to + step * 1e-6; at += step)
        axis->append(short_figure(at), at);
    axis->setTitleText(over.title);
    axis->setTitleBrush(look.faded_ink);
    axis->setLabelsColor(look.faded_ink);
    axis->setLinePenColor(look.edge);
    axis->setGridLineColor(look.rule);
    QFont font = text_font();
    font.setPointSizeF(font.pointSizeF() * 0.85);
    axis->setLabelsFont(font);
    axis->setTitleFont(font);
    return axis;
}

}  // namespace

QChart* bare_chart() {
    auto* chart = new QChart;
    chart->setMargins({0, 0, 0, 0});
    chart->layout()->setContentsMargins(0, 0, 0, 0);
    chart->setBackgroundRoundness(0);
    chart->setBackgroundVisible(false);
    chart->setAnimationOptions(QChart::NoAnimation);
    chart->legend()->hide();  // it cuts its words short; what is drawn is told beside the chart
    return chart;
}

void lay_axes(QChart& chart, const AxisOver& across, const AxisOver& up) {
    QCategoryAxis* below = axis_over(across);
    QCategoryAxis* left = axis_over(up);
    chart.addAxis(below, Qt::AlignBottom);
    chart.addAxis(left, Qt::AlignLeft);
    for (QAbstractSeries* series : chart.series()) {
        series->attachAxis(below);
        series->attachAxis(left);
    }
}

QString short_figure(double value) {
    const double size = std::abs(value);
    const auto rounded = [](double of) { return shown(format_number(std::round(of * 100.0) / 100.0)); };
    if (size >= 1e6) return rounded(value / 1e6) + QStringLiteral("m");
    if (size >= 1e4) return rounded(value / 1e3) + QStringLiteral("k");
    return rounded(value);
}

}  // namespace tedge::desk
