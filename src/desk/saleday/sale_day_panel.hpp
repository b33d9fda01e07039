// On the sheet of the lot: what became of it and how that stands against the limit, whose risk it is, what falls due
// next, and the ways to each of the acts of a sale.
#pragma once

#include <QWidget>
#include <vector>

#include "saleday/sale_acts.hpp"

class QLabel;
class QPushButton;

namespace tedge::desk {

class SaleDayPanel : public QWidget {
    Q_OBJECT

public:
    explicit SaleDayPanel(BookSession& session, QWidget* parent = nullptr);
    void show_case(const casebook::CaseSnapshot& snapshot);

signals:
    void wanted(tedge::desk::SaleAct act);

private:
    void show_result(const casebook::CaseSnapshot& snapshot);
    void show_risk(const casebook::CaseSnapshot& snapshot);
    void show_next(const casebook::CaseSnapshot& snapshot);
    void show_acts(const casebook::CaseSnapshot& snapshot);

    BookSession& session_;
    QLabel* result_;
    QLabel* risk_;
    QLabel* next_;
    std::vector<std::pair<SaleAct, QPushButton*>> acts_;
};

}  // namespace tedge::desk
