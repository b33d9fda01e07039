// The table of what comes in, worked by keyboard: arrows go, letters say, several rows at once.
#pragma once

#include <QTableView>
#include <functional>

#include "photographs/intake_model.hpp"

namespace tedge::desk {

class IntakeTable : public QTableView {
    Q_OBJECT

public:
    IntakeTable(IntakeModel& model, QWidget* parent);
    [[nodiscard]] std::vector<int> chosen_rows() const;  // from the top
    // As tall as what waits, as far as one looks it over at a glance; the sheet scrolls.
    void fit_height();

signals:
    void take_in_wanted();
    void rows_in_sight(const std::vector<int>& rows);

protected:
    void keyPressEvent(QKeyEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;
    void paintEvent(QPaintEvent* event) override;

private:
    bool handle(const QKeyEvent& key);
    void say_of_chosen(const std::function<void(IntakeRow&)>& what);
    void say_as_above();
    void fill_down();
    void confirm_and_go_on();
    void leave_chosen_out();
    void change_order();
    void fit_columns();
    IntakeModel& model_;
};

}  // namespace tedge::desk
