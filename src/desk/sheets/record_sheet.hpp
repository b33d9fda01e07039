// One sheet: its answer, the records of its kinds, the form for one of them, and what else the sheet can do.
#pragma once

#include <QWidget>
#include <optional>

#include "forms/record_form.hpp"
#include "sheets/kinds_of.hpp"

class QLabel;
class QPushButton;
class QStackedWidget;
class QVBoxLayout;

namespace tedge::desk {

class AgainPanel;
class RecordList;

class RecordSheet : public QWidget {
    Q_OBJECT

public:
    RecordSheet(usecases::Stage stage, BookSession& session, Drafts& drafts, QWidget* parent = nullptr);

    void show_case(const casebook::CaseSnapshot& snapshot);
    // With a sentence on why it stands there; empty: somebody chose it.
    void open_record(const Uuid& record, const QString& why = {});
    void begin_new();
    // With values to begin with, and a sentence on where they come from.
    void begin_with(const casebook::Kind& kind, const casebook::FieldValues& values, const QString& why);
    [[nodiscard]] RecordForm& form() { return *form_; }
    [[nodiscard]] bool form_is_open() const;
    [[nodiscard]] bool holds(std::string_view kind) const;
    // Put between the answer and the list: the intake of photographs, the reckoning of the ceiling, the dossier.
    void add_panel(QWidget* panel);

signals:
    void record_chosen(const tedge::Uuid& record);
    void place_wanted();
    void place_changed();
    void sheet_wanted(tedge::usecases::Stage stage);

private:
    void build_overview();
    void connect_form();
    void add_kind_button(const casebook::Kind& kind, QWidget* parent);
    void begin(const casebook::Kind& kind);
    void begin_again(const Uuid& last_trial);
    void show_answer();
    void show_buttons();
    void look_again();  // with the form closed
    void look_again_at_overview();
    void tell_overtaken(const QStringList& labels);
    void remove_chosen();

    usecases::Stage stage_;
    BookSession& session_;
    Drafts& drafts_;
    std::optional<casebook::CaseSnapshot> snapshot_;
    QVBoxLayout* answer_;
    QVBoxLayout* panels_;
    RecordList* list_;
    AgainPanel* again_ = nullptr;
    QWidget* overview_;
    QStackedWidget* pages_;
    RecordForm* form_;
    QLabel* overtaken_;
    QPushButton* remove_;
    std::vector<std::pair<const casebook::Kind*, QPushButton*>> begin_;
};

}  // namespace tedge::desk
