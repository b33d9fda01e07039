// The form of one record, made from the field table of its kind.
#pragma once

#include <QTimer>
#include <QWidget>
#include <optional>

#include "book_session.hpp"
#include "forms/drafts.hpp"
#include "forms/field_editor.hpp"
#include "forms/gate_notice.hpp"
#include "forms/place_row.hpp"

class QPushButton;
class QScrollArea;
class QVBoxLayout;

namespace tedge::desk {

class RecordForm : public QWidget {
    Q_OBJECT

public:
    RecordForm(BookSession& session, Drafts& drafts, QWidget* parent = nullptr);
    ~RecordForm() override;
    Q_DISABLE_COPY_MOVE(RecordForm)

    void set_own_sheet(usecases::Stage stage) { gate_->set_own_sheet(stage); }
    // A new record of a kind; a half-typed one comes back as it was left.
    void begin_new(const Uuid& case_id, const casebook::Kind& kind);
    // With values to begin with, and a sentence on where they come from. A half-typed one comes first.
    void begin_with(const Uuid& case_id, const casebook::Kind& kind, const casebook::FieldValues& values,
                    const QString& why);
    // What the person sees now is what his change will say it saw.
    void edit(const casebook::Record& record, const QString& why = {});
    // The place drawn on the easel, and the face it lies on.
    void set_place(const Uuid& face_frame, const Region& region);
    // What stands in the way may have changed with the case.
    void ask_gates_again() { show_gates(); }
    [[nodiscard]] bool wants_place() const { return place_ != nullptr; }
    [[nodiscard]] const casebook::Kind* kind() const { return kind_; }
    [[nodiscard]] GateNotice& gate() { return *gate_; }
    [[nodiscard]] FieldEditor* editor(std::string_view field) const;  // nullptr where there is none
    [[nodiscard]] static QString form_name(const Uuid& case_id, const casebook::Kind& kind);

public slots:
    void save();
    void later();    // keeps what is typed
    void give_up();  // does not
    // The act passes the closed gates by these.
    void pass_by(const std::vector<tedge::usecases::Override>& overrides);

signals:
    void saved(const tedge::Uuid& record);
    void closed();
    void place_wanted();
    void sheet_wanted(tedge::usecases::Stage stage);
    // A place was drawn, or one that was drawn is given up: on the easel it is pending no more or anew.
    void place_changed();
    // Somebody else wrote these fields since the form was begun: both are kept, this one shows.
    void overtaken(const tedge::Uuid& record, const QStringList& labels);

private:
    void begin(const Uuid& case_id, const casebook::Kind& kind);
    // record_form.cpp
    void build_footer();
    void show_gates();
    // record_form_fields.cpp
    void rebuild();
    void add_head();
    void add_editors();
    void add_editor(const casebook::Field& field, QWidget* parent);
    void set_zone(const QString& zone);
    void add_more(QWidget* more);
    void add_place();
    void lead_tab_to_footer();
    void hide_from_client();
    void make_read_only();
    // record_form_drafts.cpp
    [[nodiscard]] QString form_name() const;
    void restore_draft();
    void keep_soon();
    void keep_draft();
    void flush_draft();
    // record_form_saving.cpp
    [[nodiscard]] bool gather(casebook::FieldValues& values);
    [[nodiscard]] Expected<usecases::Done> write(const casebook::FieldValues& values);
    void finish(Expected<usecases::Done> done, const casebook::FieldValues& values);
    void show_refusal(const Error& error, const casebook::FieldValues& values);
    void show_first_fault();
    void ask_for_override();
    void tell_conflicts(const Uuid& record);
    [[nodiscard]] QString what_was_done() const;

    BookSession& session_;
    Drafts& drafts_;
    const casebook::Kind* kind_ = nullptr;
    Uuid case_id_;
    std::optional<casebook::Record> record_;
    std::vector<Uuid> seen_;
    bool read_only_ = false;
    QString why_;
    FormContext context_;
    std::vector<FieldEditor*> editors_;
    PlaceRow* place_ = nullptr;
    QPushButton* more_ = nullptr;
    QWidget* body_ = nullptr;
    QVBoxLayout* fields_ = nullptr;
    QWidget* restored_ = nullptr;
    QScrollArea* scroll_;
    GateNotice* gate_;
    QPushButton* save_ = nullptr;
    QPushButton* later_ = nullptr;
    QPushButton* give_up_ = nullptr;
    QTimer draft_timer_;
};

// Places that were drawn for forms of this case and are not saved yet.
[[nodiscard]] std::vector<DrawnPlace> places_half_typed(const Drafts& drafts, const casebook::CaseSnapshot& snapshot);

}  // namespace tedge::desk
