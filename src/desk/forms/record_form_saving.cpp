// From the form into the casebook, and what is said when it is refused.
#include <QPushButton>
#include <QScrollArea>
#include <algorithm>

#include "client_screen.hpp"
#include "forms/form_context.hpp"
#include "forms/override_dialog.hpp"
#include "forms/record_form.hpp"
#include "text.hpp"

namespace tedge::desk {

using casebook::FieldValues;

bool RecordForm::gather(FieldValues& values) {
    bool fits = true;
    for (FieldEditor* each : editors_) fits = each->put_into(values) && fits;
    if (place_ != nullptr) fits = place_->put_into(values) && fits;
    return fits;
}

Expected<usecases::Done> RecordForm::write(const FieldValues& values) {
    if (record_) return usecases::change_record(session_.acting(), record_->id, values, {}, seen_);
    return usecases::add_record(session_.acting(), case_id_, kind_->name, values);
}

void RecordForm::save() {
    if (kind_ == nullptr || read_only_) return;
    FieldValues values;
    if (!gather(values)) return show_first_fault();
    if (record_ && values.empty()) return give_up();
    if (auto ready = take_into_book(session_.book(), editors_, values); !ready)
        return show_refusal(ready.error(), values);
    finish(write(values), values);
}

void RecordForm::finish(Expected<usecases::Done> done, const FieldValues& values) {
    if (!done) return show_refusal(done.error(), values);
    draft_timer_.stop();
    drafts_.drop(form_name());
    const Uuid id = done->record;
    session_.did(*std::move(done), what_was_done());
    if (record_) tell_conflicts(id);
    emit saved(id);
}

// "new cleaning trial: sky": what taking it back will be called. A client may stand by when it is.
QString RecordForm::what_was_done() const {
    QString text = record_ ? tr("change of %1").arg(shown(kind_->label)) : tr("new %1").arg(shown(kind_->label));
    for (const FieldEditor* each : editors_) {
        const auto type = each->field().type;
        const bool tells = type == casebook::FieldType::text || type == casebook::FieldType::word;
        if (!tells || each->typed().isEmpty() || hidden_from_client(each->field())) continue;
        const QString typed = each->typed();
        return text + QStringLiteral(": ") + (type == casebook::FieldType::word ? spoken(plain(typed)) : typed);
    }
    return text;
}

void RecordForm::show_first_fault() {
    for (FieldEditor* each : editors_) {
        if (each->fault().isEmpty()) continue;
        if (more_ != nullptr && !each->isVisibleTo(body_)) more_->setChecked(true);
        each->entry()->setFocus();
        scroll_->ensureWidgetVisible(each);
        return;
    }
    if (place_ != nullptr) scroll_->ensureWidgetVisible(place_);
}

void RecordForm::show_refusal(const Error& error, const FieldValues& values) {
    if (error.code == "gate.closed") {
        const auto answers = record_ ? usecases::gates_before_change(session_.book(), record_->id, values)
                                     : usecases::gates_before_act(session_.book(), case_id_, kind_->name, values);
        if (answers) return gate_->show_answers(*answers, GateNotice::Said::when_refused);
    }
    const auto field = error.values.find("field");
    FieldEditor* at_fault = field != error.values.end() ? editor(field->second) : nullptr;
    if (at_fault == nullptr) return gate_->show_error(error);
    at_fault->show_fault(shown(error.message));
    show_first_fault();
}

void RecordForm::ask_for_override() {
    FieldValues values;
    if (!gather(values)) return show_first_fault();
    OverrideDialog dialog(gate_->closing(), shown(session_.how().author), this);
    if (dialog.exec() == QDialog::Accepted) pass_by(dialog.overrides(case_id_));
}

void RecordForm::pass_by(const std::vector<usecases::Override>& overrides) {
    FieldValues values;
    if (kind_ == nullptr || !gather(values)) return show_first_fault();
    if (auto ready = take_into_book(session_.book(), editors_, values); !ready)
        return show_refusal(ready.error(), values);
    finish(record_ ? usecases::change_record_overriding(session_.acting(), record_->id, values, overrides, {}, seen_)
                   : usecases::add_record_overriding(session_.acting(), case_id_, kind_->name, values, overrides),
           values);
}

void RecordForm::tell_conflicts(const Uuid& record) {
    const auto conflicts = session_.book().conflicts();
    if (!conflicts) return;
    QStringList labels;
    for (const casebook::Conflict& conflict : *conflicts) {
        if (conflict.record != record) continue;
        const casebook::Field* field = kind_->field(conflict.path.substr(0, conflict.path.find('/')));
        const QString label = field != nullptr ? shown(field->label) : tr("the record as a whole");
        if (!labels.contains(label)) labels << label;
    }
    if (!labels.isEmpty()) emit overtaken(record, labels);
}

}  // namespace tedge::desk
