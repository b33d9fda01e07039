#include "forms/record_form.hpp"

#include <QPushButton>
#include <QScrollArea>
#include <QShortcut>
#include <QVBoxLayout>
#include <algorithm>
#include <nlohmann/json.hpp>

#include "forms/entries/entry.hpp"
#include "forms/flow_layout.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

constexpr int draft_delay_ms = 400;

// Written by the program as the outcome of an act; whoever wants another does the act again.
bool is_outcome(const casebook::Kind& kind) {
    return kind.name == "registration" || kind.name == "ceiling" || kind.name == "gate_override";
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

void RecordForm::edit(const casebook::Record& record, const QString& why) {
    const casebook::Kind* kind = casebook::find_kind(record.kind);
    if (kind == nullptr) return;
    flush_draft();
    record_ = record;
    seen_ = record.newest_changes;
    why_ = why;
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
