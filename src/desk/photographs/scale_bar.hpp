// The colours of a map of differences with their figures.
#pragma once

#include <QWidget>

#include "tedge/imaging/difference_scale.hpp"

namespace tedge::desk {

class ScaleBar : public QWidget {
    Q_OBJECT

public:
    explicit ScaleBar(QWidget* parent = nullptr);
    void show_scale(const imaging::DifferenceScale& scale);

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    imaging::DifferenceScale shown_;
};

}  // namespace tedge::desk
