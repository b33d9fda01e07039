// What the law may ask of a deal, question by question: whether the facts ask for it, what was answered, on what day,
// by which document, and where the rule comes from. No verdict; notes of suspicion are nowhere at the desk.
#pragma once

#include <QWidget>
#include <optional>

#include "book_session.hpp"
#include "tedge/usecases/duties.hpp"

class QLabel;
class QListWidget;
class QPushButton;

namespace tedge::desk {

class DutiesPanel : public QWidget {
    Q_OBJECT

public:
    explicit DutiesPanel(BookSession& session, QWidget* parent = nullptr);
    void show_case(const casebook::CaseSnapshot& snapshot);
    void open(bool is_open);
    void choose(std::string_view duty);

    [[nodiscard]] QListWidget& questions() { return *questions_; }

protected:
    void changeEvent(QEvent* event) override;

signals:
    // The answer that is recorded is opened, or one is begun with its question.
    void record_wanted(const tedge::Uuid& record);
    void answer_wanted(const tedge::casebook::FieldValues& values, const QString& why);

private:
    void make_layout();
    void show_questions();
    void show_chosen();
    void answer_chosen();
    void open_document();
    [[nodiscard]] const usecases::Duty* chosen() const;

    BookSession& session_;
    std::optional<casebook::CaseSnapshot> snapshot_;
    usecases::DutiesOfCase made_{};
    QPushButton* open_;
    QLabel* summary_;
    QWidget* body_;
    QListWidget* questions_;
    QLabel* told_;
    QPushButton* answer_;
    QPushButton* document_;
    QLabel* papers_;
};

}  // namespace tedge::desk
