// Charts in the colours and the type of the desk.
#pragma once

#include <QString>

class QChart;

namespace tedge::desk {

// Without margins, ground, legend or animation.
[[nodiscard]] QChart* bare_chart();

struct AxisOver {
    double from;
    double to;
    QString title;
};
// For every series of the chart: round figures, grouped in threes.
void lay_axes(QChart& chart, const AxisOver& across, const AxisOver& up);

// A figure of an axis where room is short: 1,500 is 1.5k, 2,000,000 is 2m.
[[nodiscard]] QString short_figure(double value);

}  // namespace tedge::desk
