#include "forms/record_form.hpp"

#include <QDialog>
#include <QDialogButtonBox>
#include <QFormLayout>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QShortcut>
#include <QStyle>
#include <QVBoxLayout>
#include <algorithm>

#include "client_screen.hpp"
#include "tedge/base/number_text.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

using casebook::FieldValues;
using casebook::GateAnswer;

constexpr int draft_delay_ms = 400;

QPushButton* button(const QString& text, bool main, QWidget* parent) {
    auto* made = new QPushButton(text, parent);
    if (main) made->setProperty("act", "main");
    made->setMinimumHeight(40);  // for gloved hands
    return made;
}

}  // namespace

RecordForm::RecordForm(BookSession& session, Drafts& drafts, QWidget* parent)
    : QWidget(parent), session_(session), drafts_(drafts) {
    column_ = new QVBoxLayout(this);
    column_->setContentsMargins(0, 0, 0, 0);
    draft_timer_.setSingleShot(true);
    draft_timer_.setInterval(draft_delay_ms);
    connect(&draft_timer_, &QTimer::timeout, this, &RecordForm::keep_draft);
    auto* save_key = new QShortcut(QKeySequence(Qt::CTRL | Qt::Key_Return), this);
    connect(save_key, &QShortcut::activated, this, &RecordForm::save);
    connect(&session_, &BookSession::client_looks_changed, this, [this] {
        if (kind_ != nullptr) rebuild();
    });
}

QString RecordForm::form_name() const {
    return shown(record_ ? to_text(record_->id) : to_text(case_id_) + " " + std::string(kind_->name));
}

bool RecordForm::wants_place() const {
    return kind_ != nullptr && kind_->field("region") != nullptr;
}

void RecordForm::begin_new(const Uuid& case_id, const casebook::Kind& kind) {
    record_.reset();
    place_.reset();
    case_id_ = case_id;
    kind_ = &kind;
    rebuild();
}

void RecordForm::edit(const casebook::Record& record) {
    record_ = record;
    place_.reset();
    case_id_ = record.case_id;
    kind_ = casebook::find_kind(record.kind);
    if (kind_ != nullptr) rebuild();
}

void RecordForm::set_place(const Uuid& face_frame, const Region& region) {
    place_ = {face_frame, region};
    if (place_text_ != nullptr) {
        const double area_cm2 = region.area_mm2() / 100;
        place_text_->setText(tr("Place drawn, %1 cm²").arg(shown(format_fixed(area_cm2, 1))));
    }
    show_gates();
}

void RecordForm::rebuild() {
    delete body_;
    editors_.clear();
    body_ = new QWidget(this);
    auto* fields = new QVBoxLayout(body_);
    fields->setContentsMargins(0, 0, 0, 0);
    auto* title = new QLabel(
        record_ ? tr("Change this %1").arg(shown(kind_->label)) : tr("New %1").arg(shown(kind_->label)), body_);
    title->setFont(heading_font());
    title->setWordWrap(true);
    fields->addWidget(title);
    const QMap<QString, QString> draft = drafts_.of_form(form_name());
    for (const casebook::Field& field : kind_->fields) {
        if (!is_typed(field) || (session_.client_looks() && hidden_from_client(field))) continue;
        auto* editor = new FieldEditor(field, QStringLiteral("GBP"), body_);
        editor->show_value(record_ ? record_->body : casebook::Body());
        const QString key = shown(field.name);
        if (draft.contains(key)) editor->set_typed(draft.value(key));
        connect(editor, &FieldEditor::edited, this, [this] { draft_timer_.start(); });
        fields->addWidget(editor);
        editors_.push_back(editor);
    }
    place_text_ = nullptr;
    if (wants_place()) {
        place_text_ = new QLabel(
            record_ && record_->body.has("region") ? tr("Place as drawn before") : tr("No place drawn yet"), body_);
        auto* draw = button(tr("&Draw the place on the picture"), false, body_);
        connect(draw, &QPushButton::clicked, this, &RecordForm::place_wanted);
        fields->addWidget(place_text_);
        fields->addWidget(draw);
    }
    gate_ = new QLabel(body_);
    gate_->setWordWrap(true);
    gate_->hide();
    fields->addWidget(gate_);
    auto* row = new QHBoxLayout;
    auto* save_button = button(tr("&Save"), true, body_);
    auto* close_button = button(tr("&Give up"), false, body_);
    save_button->setToolTip(tr("Ctrl+Return"));
    connect(save_button, &QPushButton::clicked, this, &RecordForm::save);
    connect(close_button, &QPushButton::clicked, this, &RecordForm::give_up);
    row->addWidget(save_button);
    row->addWidget(close_button);
    fields->addLayout(row);
    column_->addWidget(body_);
    if (!editors_.empty()) editors_.front()->entry()->setFocus();
    show_gates();
}

void RecordForm::keep_draft() {
    QMap<QString, QString> typed;
    for (const FieldEditor* editor : editors_) {
        if (!editor->typed().isEmpty()) typed[shown(editor->field().name)] = editor->typed();
    }
    drafts_.keep(form_name(), typed);
    show_gates();
}

// What stands in the way is said before the act, not after it.
void RecordForm::show_gates() {
    FieldValues values;
    if (record_ || kind_ == nullptr || !gather(values)) return;
    const auto answers = usecases::gates_before_act(session_.book(), case_id_, kind_->name, values);
    if (!answers || answers->empty()) {
        gate_->hide();
        return;
    }
    const auto worst = std::ranges::max_element(*answers, {}, &GateAnswer::state);
    const bool is_closed = worst->state() == casebook::GateState::closed;
    gate_->setProperty("role", is_closed ? "closed" : "warning");
    gate_->setText((is_closed ? QStringLiteral("⊘ ") : QStringLiteral("△ ")) + shown(worst->sentence()));
    gate_->style()->unpolish(gate_);
    gate_->style()->polish(gate_);
    gate_->show();
}

bool RecordForm::gather(FieldValues& values) {
    bool fits = true;
    for (FieldEditor* editor : editors_) {
        fits = editor->put_into(values, record_ ? record_->body : casebook::Body()) && fits;
    }
    if (place_) values.record("face_frame", place_->first).region("region", place_->second);
    return fits;
}

void RecordForm::save() {
    FieldValues values;
    if (kind_ == nullptr || !gather(values)) return;
    if (record_ && values.empty()) return give_up();
    auto done = record_ ? usecases::change_record(session_.acting(), record_->id, values)
                        : usecases::add_record(session_.acting(), case_id_, kind_->name, values);
    if (!done) return show_error(done.error());
    draft_timer_.stop();
    drafts_.drop(form_name());
    const Uuid id = done->record;
    session_.did(*std::move(done), shown(kind_->label));
    emit saved(id);
}

void RecordForm::give_up() {
    draft_timer_.stop();
    drafts_.drop(form_name());
    emit closed();
}

void RecordForm::show_error(const Error& error) {
    if (error.code == "gate.closed") return offer_override(error);
    const auto field = error.values.find("field");
    for (FieldEditor* editor : editors_) {
        if (field != error.values.end() && editor->field().name == field->second) {
            editor->show_fault(shown(error.message));
            editor->entry()->setFocus();
            return;
        }
    }
    gate_->setProperty("role", "closed");
    gate_->setText(shown(error.message + " " + error.next));
    gate_->show();
}

void RecordForm::offer_override(const Error& error) {
    QDialog dialog(this);
    dialog.setWindowTitle(tr("A gate is closed"));
    auto* column = new QVBoxLayout(&dialog);
    auto* reason = new QLabel(shown(error.message + " " + error.next), &dialog);
    reason->setWordWrap(true);
    column->addWidget(reason);
    auto* fields = new QFormLayout;
    auto* name = new QLineEdit(&dialog);
    auto* why = new QLineEdit(&dialog);
    fields->addRow(tr("Who takes it upon himself"), name);
    fields->addRow(tr("Why"), why);
    column->addLayout(fields);
    auto* buttons = new QDialogButtonBox(&dialog);
    buttons->addButton(tr("Leave it closed"), QDialogButtonBox::RejectRole);
    buttons->addButton(tr("Override, by name and reason"), QDialogButtonBox::AcceptRole);
    connect(buttons, &QDialogButtonBox::accepted, &dialog, &QDialog::accept);
    connect(buttons, &QDialogButtonBox::rejected, &dialog, &QDialog::reject);
    column->addWidget(buttons);
    if (dialog.exec() != QDialog::Accepted) return;

    FieldValues values;
    if (!gather(values)) return;
    const auto answers = usecases::gates_before_act(session_.book(), case_id_, kind_->name, values);
    if (!answers) return;
    usecases::Override wanted;
    wanted.case_id = case_id_;
    wanted.gate = static_cast<int>(parse_integer(error.values.at("gate")).value_or(0));
    wanted.requirement = error.values.at("requirement");
    wanted.name = plain(name->text());
    wanted.reason = plain(why->text());
    const auto answer = std::ranges::find(*answers, wanted.gate, &GateAnswer::gate);
    if (answer == answers->end()) return;
    auto done = usecases::override_gate(session_.acting(), wanted, *answer);
    if (!done) return show_error(done.error());
    session_.did(*std::move(done), tr("override"));
    save();
}

}  // namespace tedge::desk
