// The profit against the hammer price: what is expected, between which two it will mostly lie, and where the limit is.
#pragma once

#include <QtCharts/QChartView>
#include <optional>
#include <vector>

#include "tedge/money/ceiling.hpp"

namespace tedge::desk {

class ProfitChart : public QChartView {
    Q_OBJECT

public:
    explicit ProfitChart(QWidget* parent = nullptr);
    // Points ascending, as profit_curve() gives them; `limit` is the highest bid. Without points nothing is drawn.
    void show_curve(const std::vector<money::ProfitAtHammer>& points, const std::optional<Money>& limit);
};

}  // namespace tedge::desk
