// One sheet: its answer, the records of its kinds, the form for one of them, and what else the sheet can do.
#pragma once

#include <QWidget>
#include <optional>

#include "forms/record_form.hpp"
#include "sheets/answers.hpp"

class QListWidget;
class QPushButton;
class QStackedWidget;
class QVBoxLayout;

namespace tedge::desk {

class RecordSheet : public QWidget {
    Q_OBJECT

public:
    RecordSheet(usecases::Stage stage, BookSession& session, Drafts& drafts, QWidget* parent = nullptr);

    void show_case(const casebook::CaseSnapshot& snapshot);
    void open_record(const Uuid& record);
    void begin_new();
    [[nodiscard]] RecordForm& form() { return *form_; }
    [[nodiscard]] bool holds(std::string_view kind) const;
    // Put between the answer and the list: the intake of photographs, the reckoning of the ceiling, the dossier.
    void add_panel(QWidget* panel);

signals:
    void record_chosen(const tedge::Uuid& record);
    void place_wanted();

private:
    void show_answer(const casebook::CaseSnapshot& snapshot);
    void show_records(const casebook::CaseSnapshot& snapshot);
    void add_kind_buttons();
    void remove_chosen();

    usecases::Stage stage_;
    BookSession& session_;
    std::optional<casebook::CaseSnapshot> snapshot_;
    QVBoxLayout* answer_;
    QVBoxLayout* panels_;
    QListWidget* list_;
    QWidget* overview_;
    QStackedWidget* pages_;
    RecordForm* form_;
    QPushButton* remove_;
};

}  // namespace tedge::desk
