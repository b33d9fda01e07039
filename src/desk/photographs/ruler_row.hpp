// Asks how long it is between the two marks of a ruler that are pointed at, and from tick to tick.
#pragma once

#include <QWidget>
#include <optional>

#include "tedge/usecases/measure_scale.hpp"

class QLabel;
class QLineEdit;

namespace tedge::desk {

class RulerRow : public QWidget {
    Q_OBJECT

public:
    explicit RulerRow(QWidget* parent = nullptr);
    void begin();  // nothing pointed at yet; the lengths of the time before stay
    void set_marks(PointPx from, PointPx to);
    [[nodiscard]] QLineEdit& length() { return *length_; }

public slots:
    void go_on();  // when both marks and length are there; otherwise says what is missing

signals:
    void ready(const tedge::usecases::RulerSeen& ruler);
    void given_up();

private:
    void say(const QString& text);
    std::optional<std::pair<PointPx, PointPx>> marks_;
    QLineEdit* length_;
    QLineEdit* tick_;
    QLabel* says_;
};

}  // namespace tedge::desk
