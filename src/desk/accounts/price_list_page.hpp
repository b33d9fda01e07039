// What is in stock, its cost in the house's private code: for the desk that a client may look at.
#pragma once

#include <QWidget>
#include <vector>

#include "book_session.hpp"
#include "tedge/usecases/stock.hpp"

class QLabel;
class QPushButton;

namespace tedge::desk {

class FigureTable;
class Refusal;

class PriceListPage : public QWidget {
    Q_OBJECT

public:
    explicit PriceListPage(BookSession& session, QWidget* parent = nullptr);
    void look();

    [[nodiscard]] FigureTable& list() { return *list_; }
    void save_as(const QString& file);

signals:
    void case_wanted(const tedge::Uuid& case_id);

private:
    BookSession& session_;
    std::vector<usecases::StockListRow> rows_{};
    QLabel* said_;
    FigureTable* list_;
    QLabel* told_;
    Refusal* refusal_;
    QPushButton* save_;
};

}  // namespace tedge::desk
