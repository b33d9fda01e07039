#include "forms/record_form.hpp"

#include <QComboBox>
#include <QLabel>
#include <QPushButton>
#include <QScrollArea>
#include <QShortcut>
#include <QVBoxLayout>
#include <algorithm>
#include <nlohmann/json.hpp>

#include "client_screen.hpp"
#include "forms/at_hand.hpp"
#include "forms/entries/entry.hpp"
#include "forms/flow_layout.hpp"
#include "forms/form_context.hpp"
#include "forms/local_time.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

constexpr int draft_delay_ms = 400;

// Written by the program as the outcome of an act; whoever wants another does the act again.
bool is_outcome(const casebook::Kind& kind) {
    return kind.name == "registration" || kind.name == "ceiling" || kind.name == "gate_override";
}

// The face a place lies on comes with the place.
bool comes_with_place(const casebook::Field& field, const casebook::Kind& kind) {
    const casebook::Field* region = kind.field("region");
    return field.of == "face_frame" && region != nullptr && region->required;
}

}  // namespace

RecordForm::RecordForm(BookSession& session, Drafts& drafts, QWidget* parent)
    : QWidget(parent), session_(session), drafts_(drafts), scroll_(new QScrollArea(this)), gate_(new GateNotice(this)) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 8);
    scroll_->setWidgetResizable(true);
    scroll_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    // Always there: one that comes and goes changes the width, which decides the height that it comes for.
    scroll_->setVerticalScrollBarPolicy(Qt::ScrollBarAlwaysOn);
    scroll_->setFocusPolicy(Qt::NoFocus);
    column->addWidget(scroll_, 1);
    build_footer();
    draft_timer_.setSingleShot(true);
    draft_timer_.setInterval(draft_delay_ms);
    connect(&draft_timer_, &QTimer::timeout, this, [this] {
        keep_draft();
        show_gates();
    });
    connect(gate_, &GateNotice::sheet_wanted, this, &RecordForm::sheet_wanted);
    connect(gate_, &GateNotice::override_wanted, this, &RecordForm::ask_for_override);
    connect(&session_, &BookSession::client_looks_changed, this, &RecordForm::hide_from_client);
}

RecordForm::~RecordForm() {
    flush_draft();
}

void RecordForm::build_footer() {
    auto* footer = new QWidget(this);
    auto* column = new QVBoxLayout(footer);
    column->setContentsMargins(12, 0, 12, 0);
    column->addWidget(gate_);
    auto* buttons = new QWidget(footer);
    auto* row = new FlowLayout(buttons);
    const auto button = [&](const QString& text, const QString& tip, auto act) {
        auto* made = new QPushButton(text, buttons);
        made->setMinimumHeight(target_px);
        made->setToolTip(tip);
        connect(made, &QPushButton::clicked, this, act);
        row->addWidget(made);
        return made;
    };
    save_ = button(tr("&Save"), tr("Ctrl+Return"), &RecordForm::save);
    save_->setProperty("act", "main");
    later_ = button(tr("&Later"), tr("Esc; what is typed is kept"), &RecordForm::later);
    give_up_ = button(tr("&Give up"), tr("What is typed is thrown away"), &RecordForm::give_up);
    column->addWidget(buttons);
    layout()->addWidget(footer);
    const auto key = [this](const QKeySequence& keys, Qt::ShortcutContext context, auto act) {
        auto* shortcut = new QShortcut(keys, this);
        shortcut->setContext(context);
        connect(shortcut, &QShortcut::activated, this, act);
    };
    // Saved from anywhere: drawing a place leaves the focus on the picture. Hidden forms hear nothing.
    key(QKeySequence(Qt::CTRL | Qt::Key_Return), Qt::WindowShortcut, &RecordForm::save);
    key(QKeySequence(Qt::Key_Escape), Qt::WidgetWithChildrenShortcut, &RecordForm::later);
}

QString RecordForm::form_name(const Uuid& case_id, const casebook::Kind& kind) {
    return shown(to_text(case_id) + " " + std::string(kind.name));
}

FieldEditor* RecordForm::editor(std::string_view field) const {
    const auto found = std::ranges::find_if(editors_, [&](const FieldEditor* e) { return e->field().name == field; });
    return found != editors_.end() ? *found : nullptr;
}

void RecordForm::begin(const Uuid& case_id, const casebook::Kind& kind) {
    case_id_ = case_id;
    kind_ = &kind;
    read_only_ = session_.book().read_only() || is_outcome(kind) || (record_ && record_->newer);
    rebuild();
}

void RecordForm::begin_new(const Uuid& case_id, const casebook::Kind& kind) {
    flush_draft();
    record_.reset();
    seen_.clear();
    why_.clear();
    begin(case_id, kind);
}

void RecordForm::begin_with(const Uuid& case_id, const casebook::Kind& kind, const casebook::FieldValues& values,
                            const QString& why) {
    flush_draft();
    record_.reset();
    seen_.clear();
    const bool half_typed = drafts_.has(form_name(case_id, kind));
    why_ = half_typed ? tr("One is half typed: save it or give it up first.") : why;
    begin(case_id, kind);
    if (half_typed) return;
    const casebook::Body body(values.set_values());
    for (FieldEditor* each : editors_) {
        if (body.has(each->field().name)) each->set_typed(typed_text(each->field(), body, context_));
    }
    const auto frame = body.record("face_frame");
    const auto region = body.region("region");
    if (place_ != nullptr && frame && region) place_->set_place({*frame, *region}, tr("As in the last one"));
    show_gates();
}

void RecordForm::edit(const casebook::Record& record) {
    const casebook::Kind* kind = casebook::find_kind(record.kind);
    if (kind == nullptr) return;
    flush_draft();
    record_ = record;
    seen_ = record.newest_changes;
    why_.clear();
    begin(record.case_id, *kind);
}

void RecordForm::set_place(const Uuid& face_frame, const Region& region) {
    if (place_ == nullptr || read_only_) return;
    place_->set_place({face_frame, region});
    if (FieldEditor* face = editor("face_frame")) face->set_typed(shown(to_text(face_frame)));
    keep_draft();
    show_gates();
    emit place_changed();
}

// Not put off by every key: whoever types without a pause loses half a second, not a paragraph.
void RecordForm::keep_soon() {
    if (!draft_timer_.isActive()) draft_timer_.start();
}

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

// What stands in the way is said before the act, not after it.
void RecordForm::show_gates() {
    if (kind_ == nullptr || read_only_ || session_.client_looks()) return;
    casebook::FieldValues values;
    for (const FieldEditor* each : editors_) each->put_what_fits_into(values);
    if (place_ != nullptr && place_->place())
        values.record("face_frame", place_->place()->face_frame).region("region", place_->place()->region);
    if (record_ && values.empty()) return gate_->clear();
    const auto answers = record_ ? usecases::gates_before_change(session_.book(), record_->id, values)
                                 : usecases::gates_before_act(session_.book(), case_id_, kind_->name, values);
    if (answers) gate_->show_answers(*answers, GateNotice::Said::before_the_act);
}

}  // namespace tedge::desk
