// A table of words and figures to be looked over and worked by keyboard: arrows go from row to row, Enter opens what
// the row tells of. A row takes the lines it needs; words give way to figures.
#pragma once

#include <QTableWidget>
#include <vector>

#include "sheets/answers/answer.hpp"
#include "tedge/base/uuid.hpp"

namespace tedge::desk {

struct FigureCells {
    QStringList cells;
    std::optional<Uuid> opens{};
    Tone tone = Tone::plain;
    QString tip{};
};

class FigureTable : public QTableWidget {
    Q_OBJECT

public:
    // `word_columns`: how many of the first hold words; the rest are figures, to the right. The first takes what room
    // is left.
    FigureTable(const QStringList& heads, int word_columns, QWidget* parent = nullptr);

    // Keeps the row that was chosen where what it opens is still there.
    void show_rows(const std::vector<FigureCells>& rows);
    [[nodiscard]] std::optional<Uuid> chosen() const;
    // As tall as its rows: for a sheet that scrolls.
    void fit_to_rows() { fits_ = true; }

signals:
    void opened(const tedge::Uuid& what);
    void moved_to();

protected:
    void resizeEvent(QResizeEvent* event) override;
    void changeEvent(QEvent* event) override;
    void paintEvent(QPaintEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;

private:
    void add_row(const FigureCells& cells);
    void give_colours();
    void fit();
    int word_columns_;
    bool fits_ = false;
};

}  // namespace tedge::desk
