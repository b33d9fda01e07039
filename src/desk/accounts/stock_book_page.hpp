// The stock book of a period: the margin scheme's with its particulars, and apart from it what stands under ordinary
// VAT.
#pragma once

#include <QWidget>
#include <optional>

#include "book_session.hpp"
#include "tedge/usecases/stock.hpp"

class QLabel;
class QLineEdit;
class QPlainTextEdit;
class QPushButton;

namespace tedge::desk {

class FigureTable;
class Refusal;

class StockBookPage : public QWidget {
    Q_OBJECT

public:
    explicit StockBookPage(BookSession& session, QWidget* parent = nullptr);
    void look();

    void set_period(const QString& from, const QString& to);
    [[nodiscard]] FigureTable& margin_rows() { return *margin_; }
    [[nodiscard]] FigureTable& ordinary_rows() { return *ordinary_; }
    void save_margin_as(const QString& file);
    void save_ordinary_as(const QString& file);

signals:
    void case_wanted(const tedge::Uuid& case_id);

private:
    void make_layout();
    void show_book();
    void refuse(const Error& error);
    void say_saved(const Expected<void>& saved, const QString& file);
    BookSession& session_;
    std::optional<usecases::StockBookOfHouse> made_;
    QLineEdit* from_;
    QLineEdit* to_;
    QLabel* margin_sums_;
    FigureTable* margin_;
    QLabel* ordinary_sums_;
    FigureTable* ordinary_;
    QPlainTextEdit* missing_;
    QLabel* told_;
    Refusal* refusal_;
    QPushButton* save_;
    QPushButton* save_ordinary_;
};

}  // namespace tedge::desk
