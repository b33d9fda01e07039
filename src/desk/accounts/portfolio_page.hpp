// All pictures: money in, expected out, cash needed by month, and what is left if every one goes worst.
#pragma once

#include <QWidget>
#include <optional>

#include "book_session.hpp"
#include "tedge/usecases/portfolio.hpp"

class QLabel;
class QPlainTextEdit;
class QPushButton;

namespace tedge::desk {

class FigureTable;
class Refusal;

class PortfolioPage : public QWidget {
    Q_OBJECT

public:
    explicit PortfolioPage(BookSession& session, QWidget* parent = nullptr);
    void look();

    [[nodiscard]] FigureTable& pictures() { return *pictures_; }
    [[nodiscard]] FigureTable& months() { return *months_; }
    void save_pictures_as(const QString& file);
    void save_months_as(const QString& file);

signals:
    void case_wanted(const tedge::Uuid& case_id);

private:
    void make_layout();
    void show_portfolio();
    void say_saved(const Expected<void>& saved, const QString& file);
    BookSession& session_;
    std::optional<usecases::Portfolio> made_;
    QLabel* sums_;
    FigureTable* pictures_;
    FigureTable* months_;
    QPlainTextEdit* doubts_;
    QLabel* told_;
    Refusal* refusal_;
    QPushButton* save_;
    QPushButton* save_months_;
};

}  // namespace tedge::desk
