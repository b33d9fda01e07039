// How a form is made of the fields of a kind: what is asked first, what waits behind a button, what is only read.
#include <QComboBox>
#include <QLabel>
#include <QPushButton>
#include <QScrollArea>
#include <QVBoxLayout>
#include <algorithm>
#include <utility>

#include "client_screen.hpp"
#include "forms/at_hand.hpp"
#include "forms/entries/entry.hpp"
#include "forms/form_context.hpp"
#include "forms/local_time.hpp"
#include "forms/record_form.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

// The face a place lies on comes with the place.
bool comes_with_place(const casebook::Field& field, const casebook::Kind& kind) {
    const casebook::Field* region = kind.field("region");
    return field.of == "face_frame" && region != nullptr && region->required;
}

}  // namespace

void RecordForm::rebuild() {
    draft_timer_.stop();
    editors_.clear();
    place_ = nullptr;
    more_ = nullptr;
    restored_ = nullptr;
    delete scroll_->takeWidget();
    gate_->clear();
    context_ = form_context(session_, session_.book().snapshot(case_id_).value_or(casebook::CaseSnapshot()), kind_);
    context_.zone = record_ ? zone_in(record_->body, kind_) : QString();
    body_ = new QWidget;
    fields_ = new QVBoxLayout(body_);
    fields_->setContentsMargins(12, 8, 12, 8);
    add_head();
    add_place();
    add_editors();
    fields_->addStretch(1);
    scroll_->setWidget(body_);
    lead_tab_to_footer();
    if (read_only_) {
        make_read_only();
    } else {
        restore_draft();
    }
    save_->setVisible(!read_only_);
    give_up_->setVisible(!read_only_);
    later_->setText(read_only_ ? tr("&Back") : tr("&Later"));
    hide_from_client();
    if (!editors_.empty()) editors_.front()->entry()->setFocus();
    show_gates();
}

// The footer is older than the fields, and Tab would pass it by.
void RecordForm::lead_tab_to_footer() {
    QWidget* last = nullptr;
    for (QWidget* each : body_->findChildren<QWidget*>()) {
        // The line of a list follows the list itself, and what the list opens is a window of its own.
        const bool is_of_list = qobject_cast<QComboBox*>(each->parentWidget()) != nullptr || each->window() != window();
        if ((each->focusPolicy() & Qt::TabFocus) != 0 && !is_of_list) last = each;
    }
    if (last == nullptr) return;
    setTabOrder(last, save_);
    setTabOrder(save_, later_);
    setTabOrder(later_, give_up_);
}

void RecordForm::add_head() {
    const QString label = shown(kind_->label);
    auto* title = new QLabel(
        read_only_ ? capital(label) : (record_ ? tr("Change this %1").arg(label) : tr("New %1").arg(label)), body_);
    title->setFont(heading_font());
    title->setWordWrap(true);
    fields_->addWidget(title);
    if (why_.isEmpty()) return;
    auto* why = new QLabel(why_, body_);
    why->setWordWrap(true);
    fields_->addWidget(why);
}

void RecordForm::add_editors() {
    const auto first = asked_first(kind_->name);
    for (const std::string_view name : first) {
        if (const casebook::Field* field = kind_->field(name)) add_editor(*field, body_);
    }
    more_ = new QPushButton(body_);  // before what it hides: Tab goes in the order of making
    auto* more = new QWidget(body_);
    auto* column = new QVBoxLayout(more);
    column->setContentsMargins(0, 0, 0, 0);
    for (const casebook::Field& field : kind_->fields) {
        if (std::ranges::find(first, field.name) == first.end()) add_editor(field, first.empty() ? body_ : more);
    }
    if (column->count() > 0) return add_more(more);
    delete more;
    delete std::exchange(more_, nullptr);
}

void RecordForm::add_editor(const casebook::Field& field, QWidget* parent) {
    for (const casebook::Field& part : casebook::parts_asked(kind_->name, field.name)) add_editor(part, parent);
    // A part of a map bears the path to it.
    const bool is_part = field.name.find('/') != std::string_view::npos;
    if (!is_part && (!is_typed(field, *kind_) || comes_with_place(field, *kind_))) return;
    auto* made = new FieldEditor(field, context_, offered_for(field, context_), parent);
    made->show_value(record_ ? record_->body : casebook::Body());
    if (field.from_file) made->set_read_only();
    connect(made, &FieldEditor::edited, this, &RecordForm::keep_soon);
    if (field.type == casebook::FieldType::zone)
        connect(made, &FieldEditor::edited, this, [this, made] { set_zone(made->typed()); });
    parent->layout()->addWidget(made);
    editors_.push_back(made);
}

// A time stays what the clock says: in another zone it is another moment.
void RecordForm::set_zone(const QString& zone) {
    context_.zone = zone;
    for (FieldEditor* each : editors_) {
        if (each->field().type == casebook::FieldType::instant) each->look_again();
    }
}

// What is seldom asked waits behind one button, unless something stands in it.
void RecordForm::add_more(QWidget* more) {
    const auto behind = more->findChildren<FieldEditor*>(Qt::FindDirectChildrenOnly);
    const bool has_something =
        std::ranges::any_of(behind, [](const FieldEditor* each) { return !each->typed().isEmpty(); });
    more_->setText(tr("%1 (%2)").arg(name_of_the_others(kind_->name)).arg(behind.size()));
    more_->setCheckable(true);
    more_->setMinimumHeight(target_px);
    more_->setChecked(has_something);
    more->setVisible(has_something);
    connect(more_, &QPushButton::toggled, more, &QWidget::setVisible);
    fields_->addWidget(more_);
    fields_->addWidget(more);
}

void RecordForm::add_place() {
    const casebook::Field* region = kind_->field("region");
    if (region == nullptr) return;
    place_ = new PlaceRow(region->required, record_ && record_->body.has("region"), body_);
    connect(place_, &PlaceRow::wanted, this, &RecordForm::place_wanted);
    fields_->addWidget(place_);
}

void RecordForm::hide_from_client() {
    if (kind_ == nullptr) return;
    for (FieldEditor* each : editors_) each->setVisible(!session_.client_looks() || !hidden_from_client(each->field()));
    if (session_.client_looks()) gate_->clear();
}

void RecordForm::make_read_only() {
    for (FieldEditor* each : editors_) each->set_read_only();
    if (place_ != nullptr) place_->set_read_only();
}

}  // namespace tedge::desk
