// Which guess moves the ceiling most: a bar for each estimate from its low to its high value, the widest on top.
#pragma once

#include <QWidget>
#include <optional>
#include <vector>

#include "tedge/money/ceiling_sensitivity.hpp"

namespace tedge::desk {

class SwingChart : public QWidget {
    Q_OBJECT

public:
    explicit SwingChart(QWidget* parent = nullptr);
    // `now` is the lowest ceiling of the plan as it stands. The widest few are shown.
    void show_swings(std::vector<money::CeilingSwing> swings, const std::optional<Money>& now);
    [[nodiscard]] static QString name_of(const money::CeilingSwing& swing);  // "by the master: price"
    [[nodiscard]] QSize sizeHint() const override;

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    [[nodiscard]] int row_height() const;

    std::vector<money::CeilingSwing> swings_;
    std::optional<Money> now_;
};

}  // namespace tedge::desk
