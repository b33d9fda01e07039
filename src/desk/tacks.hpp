// The tacking edge: a row of tacks, one for each stage of the work. Filled when done, ringed where the picture is,
// crossed where a gate is closed.
#pragma once

#include <QWidget>
#include <array>

#include "tedge/usecases/cases.hpp"

class QPainter;

namespace tedge::desk {

using ClosedStages = std::array<bool, usecases::all_stages.size()>;

// Paints the row into a rectangle; with names below the tacks where there is height for them.
void paint_tacks(QPainter& painter, const QRectF& into, const usecases::StageMarks& marks, const ClosedStages& closed,
                 bool with_names, int selected = -1);
// "lot done, ceiling done, transit here, structure closed …": the same in words.
[[nodiscard]] QString tacks_in_words(const usecases::StageMarks& marks, const ClosedStages& closed);

// The row along the top of a case: click or arrow keys choose the sheet.
class TackRow : public QWidget {
    Q_OBJECT

public:
    explicit TackRow(QWidget* parent = nullptr);
    void show_marks(const usecases::StageMarks& marks, const ClosedStages& closed);
    void select(usecases::Stage stage);
    [[nodiscard]] usecases::Stage selected() const { return usecases::all_stages[static_cast<std::size_t>(selected_)]; }
    [[nodiscard]] QSize sizeHint() const override { return {640, 54}; }
    [[nodiscard]] QSize minimumSizeHint() const override { return {360, 54}; }

signals:
    void chosen(tedge::usecases::Stage stage);

protected:
    void paintEvent(QPaintEvent* event) override;
    void mousePressEvent(QMouseEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;

private:
    void choose(int index);
    usecases::StageMarks marks_;
    ClosedStages closed_{};
    int selected_ = 0;
};

}  // namespace tedge::desk
