// What two people wrote differently in a case, record by record: chosen or written anew, with the reason, and settled.
#pragma once

#include <QDialog>

#include "book_session.hpp"
#include "tedge/usecases/settling.hpp"

class QLabel;
class QPlainTextEdit;
class QPushButton;
class QVBoxLayout;

namespace tedge::desk {

struct FormContext;
class ContestedChoice;

// One record that is told differently.
class SettlingBox : public QWidget {
    Q_OBJECT

public:
    SettlingBox(BookSession& session, casebook::Disagreement disagreement, casebook::Record now,
                const casebook::CaseSnapshot& snapshot, QWidget* parent = nullptr);
    ~SettlingBox() override;

    [[nodiscard]] const QList<ContestedChoice*>& contested() const { return contested_; }
    [[nodiscard]] QPlainTextEdit* why() { return why_; }
    [[nodiscard]] bool is_settled() const { return settled_; }
    [[nodiscard]] QString fault() const;
    void settle();

signals:
    void settled();

private:
    void make_layout(const casebook::CaseSnapshot& snapshot);
    void show_fault(const QString& text);

    BookSession& session_;
    casebook::Disagreement disagreement_;
    casebook::Record now_;
    std::unique_ptr<FormContext> context_;
    QList<ContestedChoice*> contested_;
    QPlainTextEdit* why_;
    QLabel* fault_;
    QPushButton* settle_;
    bool settled_ = false;
};

class SettlingDialog : public QDialog {
    Q_OBJECT

public:
    SettlingDialog(BookSession& session, const casebook::CaseSnapshot& snapshot, QWidget* parent = nullptr);
    [[nodiscard]] const QList<SettlingBox*>& boxes() const { return boxes_; }

private:
    void fill(const casebook::CaseSnapshot& snapshot, QVBoxLayout& column, QWidget* inside);
    void look_whether_all_is_settled();

    BookSession& session_;
    QList<SettlingBox*> boxes_;
    QLabel* head_;
    QPushButton* close_;
};

}  // namespace tedge::desk
