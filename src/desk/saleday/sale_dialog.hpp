// What the windows of a sale have in common: a sentence on what came of the last act, a row of acts with Close behind
// them, and F9, which shuts them at once when a client comes in.
#pragma once

#include <QDialog>
#include <QTableWidget>
#include <chrono>
#include <functional>

#include "book_session.hpp"

class QLabel;
class QPushButton;
class QVBoxLayout;

namespace tedge::desk {

class SaleDialog : public QDialog {
    Q_OBJECT

public:
    SaleDialog(BookSession& session, const QString& title, QSize wanted, QWidget* parent);

public slots:
    void reject() override;  // what is typed is not thrown away without a word

protected:
    [[nodiscard]] BookSession& session() const { return session_; }
    [[nodiscard]] QVBoxLayout& body() { return *body_; }
    void add_head(const QString& text);
    QPushButton* add_act(const QString& text, std::function<void()> act);
    void add_beside_acts(QWidget* widget);
    void say(const QString& text, const char* role);
    void say_error(const Error& error);
    [[nodiscard]] virtual bool has_unsaved() const { return false; }
    void typed_on() { has_warned_ = false; }

private:
    BookSession& session_;
    QVBoxLayout* body_;
    QLabel* told_;
    QWidget* acts_;
    bool has_warned_ = false;
};

// Rows that are read, or typed into where a cell lets it; Tab leaves it.
[[nodiscard]] QTableWidget* make_table(const QStringList& heads, int wide_column, const QString& name, QWidget* parent);
enum class CellSort { words, figure };
QTableWidgetItem* put_cell(QTableWidget& table, int row, int column, const QString& text,
                           CellSort sort = CellSort::words);
// As high as its rows, so that what stands around it scrolls and not it.
void fit_to_rows(QTableWidget& table);

[[nodiscard]] std::chrono::year_month_day day_of_desk(BookSession& session);
[[nodiscard]] QString error_words(const Error& error);

}  // namespace tedge::desk
