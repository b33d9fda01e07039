// The accounts of a picture: what each cost is beside its estimate, what is paid and due, the result and whose it is,
// and what may still come out. Nobody's business while a client looks.
#pragma once

#include <QWidget>
#include <optional>

#include "book_session.hpp"
#include "tedge/usecases/accounts.hpp"

class QLabel;
class QPushButton;

namespace tedge::desk {

class FigureTable;

class AccountPanel : public QWidget {
    Q_OBJECT

public:
    explicit AccountPanel(BookSession& session, QWidget* parent = nullptr);
    void show_case(const casebook::CaseSnapshot& snapshot);

    [[nodiscard]] FigureTable& entries() { return *entries_; }
    // What the button does once it knows where to.
    void save_csv_as(const QString& file);

signals:
    void record_wanted(const tedge::Uuid& record);
    // A payment of what is still open, begun with its values.
    void payment_wanted(const tedge::casebook::FieldValues& values, const QString& why);

protected:
    void resizeEvent(QResizeEvent* event) override;

private:
    void reckon();
    void show_lines();
    void show_refusal(const Error& error);
    void show_figures();
    void begin_payment();
    void look_at_chosen();
    [[nodiscard]] const usecases::AccountEntry* chosen_open() const;  // something of it is still to be paid

    BookSession& session_;
    std::optional<casebook::CaseSnapshot> snapshot_;
    std::optional<usecases::CaseAccounts> accounts_;
    std::optional<Uuid> faulty_;  // the record whose amount cannot be counted
    FigureTable* entries_;
    QLabel* sums_;
    QLabel* shares_;
    QLabel* doubts_;
    QLabel* refused_;
    QLabel* told_;
    QPushButton* mend_;
    QPushButton* pay_;
    QPushButton* save_;
};

}  // namespace tedge::desk
