#include "sheets/record_sheet.hpp"

#include <QLabel>
#include <QPushButton>
#include <QScrollArea>
#include <QStackedWidget>
#include <QVBoxLayout>
#include <algorithm>

#include "client_screen.hpp"
#include "forms/entries/entry.hpp"
#include "forms/flow_layout.hpp"
#include "sheets/again_panel.hpp"
#include "sheets/answers/answer.hpp"
#include "sheets/record_list.hpp"
#include "tedge/usecases/next_trial.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

QString title_of(usecases::Stage stage) {
    switch (stage) {
        case usecases::Stage::lot:
            return QObject::tr("How it came up");
        case usecases::Stage::ceiling:
            return QObject::tr("What may be bid");
        case usecases::Stage::transit:
            return QObject::tr("Where it is");
        case usecases::Stage::survey:
            return QObject::tr("What is unstable");
        case usecases::Stage::photographs:
            return QObject::tr("What is photographed");
        case usecases::Stage::trials:
            return QObject::tr("What the trials show");
        case usecases::Stage::treatment:
            return QObject::tr("What was done");
        case usecases::Stage::structure:
            return QObject::tr("What holds it");
        case usecases::Stage::frame:
            return QObject::tr("The frame");
        case usecases::Stage::research:
            return QObject::tr("Whose it was");
        case usecases::Stage::dossier:
            return QObject::tr("What leaves the house");
        case usecases::Stage::account:
            return QObject::tr("What it cost and brings");
    }
    return {};
}

QScrollArea* scrolled(QWidget* inside, QWidget* parent) {
    auto* area = new QScrollArea(parent);
    area->setWidget(inside);
    area->setWidgetResizable(true);
    area->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    area->setVerticalScrollBarPolicy(Qt::ScrollBarAlwaysOn);  // as in the form: nothing moves when it appears
    area->setFocusPolicy(Qt::NoFocus);
    return area;
}

}  // namespace

RecordSheet::RecordSheet(usecases::Stage stage, BookSession& session, Drafts& drafts, QWidget* parent)
    : QWidget(parent),
      stage_(stage),
      session_(session),
      drafts_(drafts),
      answer_(new QVBoxLayout),
      panels_(new QVBoxLayout),
      list_(new RecordList(this)),
      overview_(new QWidget(this)),
      pages_(new QStackedWidget(this)),
      form_(new RecordForm(session, drafts, this)),
      overtaken_(new QLabel(this)),
      remove_(new QPushButton(tr("&Remove the chosen record"), this)) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->addWidget(pages_);
    build_overview();
    pages_->addWidget(scrolled(overview_, pages_));
    pages_->addWidget(form_);
    connect_form();
    connect(list_, &RecordList::opened, this, [this](const Uuid& id) { open_record(id); });
    connect(list_, &RecordList::moved_to, this, [this](const Uuid& id) {
        remove_->setEnabled(true);
        emit record_chosen(id);
    });
    connect(remove_, &QPushButton::clicked, this, &RecordSheet::remove_chosen);
}

void RecordSheet::build_overview() {
    auto* column = new QVBoxLayout(overview_);
    column->setContentsMargins(12, 8, 12, 8);
    auto* title = new QLabel(title_of(stage_), overview_);
    title->setFont(heading_font());
    column->addWidget(title);
    overtaken_->setProperty("role", "warning");
    overtaken_->setWordWrap(true);
    overtaken_->hide();
    column->addWidget(overtaken_);
    column->addLayout(answer_);
    column->addLayout(panels_);
    if (stage_ == usecases::Stage::trials) {
        again_ = new AgainPanel(overview_);
        column->addWidget(again_);
        connect(again_, &AgainPanel::wanted, this, &RecordSheet::begin_again);
    }
    auto* buttons = new QWidget(overview_);
    new FlowLayout(buttons);
    for (const std::string_view name : begun_by_hand(stage_)) add_kind_button(*casebook::find_kind(name), buttons);
    column->addWidget(buttons);
    list_->setAccessibleName(tr("Records of the sheet %1").arg(shown(to_text(stage_))));
    column->addWidget(list_, 1);
    remove_->setMinimumHeight(target_px);
    column->addWidget(remove_);
    column->addStretch();  // where there is no list, what there is stays together
}

void RecordSheet::connect_form() {
    form_->set_own_sheet(stage_);
    connect(form_, &RecordForm::closed, this, &RecordSheet::look_again);
    connect(form_, &RecordForm::saved, this, &RecordSheet::look_again);
    connect(form_, &RecordForm::place_wanted, this, &RecordSheet::place_wanted);
    connect(form_, &RecordForm::place_changed, this, &RecordSheet::place_changed);
    connect(form_, &RecordForm::sheet_wanted, this, &RecordSheet::sheet_wanted);
    connect(form_, &RecordForm::overtaken, this,
            [this](const Uuid& /*record*/, const QStringList& labels) { tell_overtaken(labels); });
}

void RecordSheet::add_kind_button(const casebook::Kind& kind, QWidget* parent) {
    auto* add = new QPushButton(parent);
    // Where a panel has the act of the sheet, beginning a record is not it.
    const bool has_panel = stage_ == usecases::Stage::ceiling || stage_ == usecases::Stage::photographs ||
                           stage_ == usecases::Stage::dossier || stage_ == usecases::Stage::account;
    if (begin_.empty() && !has_panel) add->setProperty("act", "main");
    add->setMinimumHeight(target_px);
    connect(add, &QPushButton::clicked, this, [this, &kind] { begin(kind); });
    parent->layout()->addWidget(add);
    begin_.emplace_back(&kind, add);
    add->setText(tr("New %1").arg(shown(kind.label)));
}

void RecordSheet::add_panel(QWidget* panel) {
    panels_->addWidget(panel);
}

bool RecordSheet::form_is_open() const {
    return pages_->currentWidget() == form_;
}

bool RecordSheet::holds(std::string_view kind) const {
    const auto kinds = kinds_of(stage_);
    return std::ranges::find(kinds, kind) != kinds.end();
}

void RecordSheet::show_case(const casebook::CaseSnapshot& snapshot) {
    const bool other_case = !snapshot_ || snapshot_->picture.id != snapshot.picture.id;
    snapshot_ = snapshot;
    if (other_case) overtaken_->hide();
    const bool is_hidden = session_.client_looks() && form_->kind() != nullptr && hidden_from_client(*form_->kind());
    if (form_is_open() && (other_case || is_hidden)) form_->later();  // keeps what is typed
    if (form_is_open()) form_->ask_gates_again();
    look_again_at_overview();
}

void RecordSheet::show_answer() {
    while (QLayoutItem* old = answer_->takeAt(0)) {
        delete old->widget();
        delete old;
    }
    for (const AnswerLine& line : answer_of(stage_, *snapshot_, session_.client_looks())) {
        auto* label = new QLabel(line.text, overview_);
        label->setProperty("role", role_of(line.tone));
        label->setWordWrap(true);
        label->setTextInteractionFlags(Qt::TextSelectableByMouse);
        answer_->addWidget(label);
    }
}

void RecordSheet::show_buttons() {
    for (const auto& [kind, button] : begin_) {
        const bool half_typed = drafts_.has(RecordForm::form_name(snapshot_->picture.id, *kind));
        const QString label = shown(kind->label);
        button->setText(half_typed ? tr("✎ Go on: half-typed %1").arg(label) : tr("New %1").arg(label));
        button->setVisible(!session_.client_looks() || !hidden_from_client(*kind));
        button->setEnabled(!session_.book().read_only());
    }
}

void RecordSheet::look_again_at_overview() {
    if (!snapshot_) return;
    show_answer();
    show_buttons();
    list_->show_records(kinds_of(stage_), *snapshot_, drafts_, session_.client_looks());
    if (again_ != nullptr) again_->show_case(*snapshot_);
    remove_->setEnabled(list_->chosen().has_value());
    remove_->setVisible(list_->count() > 0 && !session_.book().read_only());
    list_->setVisible(list_->count() > 0);
}

void RecordSheet::look_again() {
    pages_->setCurrentIndex(0);
    look_again_at_overview();
}

void RecordSheet::tell_overtaken(const QStringList& labels) {
    overtaken_->setText(tr("△ Somebody else wrote %1 while you did. Yours shows; the other is kept: F8 settles it.")
                            .arg(labels.join(QStringLiteral(", "))));
    overtaken_->show();
}

void RecordSheet::open_record(const Uuid& record, const QString& why) {
    const casebook::Record* found = snapshot_ ? snapshot_->find(record) : nullptr;
    if (found == nullptr) return;
    overtaken_->hide();
    pages_->setCurrentWidget(form_);
    form_->edit(*found, why);
}

void RecordSheet::begin(const casebook::Kind& kind) {
    if (!snapshot_) return;
    overtaken_->hide();
    pages_->setCurrentWidget(form_);
    form_->begin_new(snapshot_->picture.id, kind);
}

void RecordSheet::begin_again(const Uuid& last_trial) {
    const casebook::Record* last = snapshot_ ? snapshot_->find(last_trial) : nullptr;
    if (last == nullptr) return;
    const usecases::NextTrial next = usecases::next_trial(*snapshot_, *last);
    begin_with(*casebook::find_kind("trial"), next.values, shown(next.why));
}

void RecordSheet::begin_with(const casebook::Kind& kind, const casebook::FieldValues& values, const QString& why) {
    if (!snapshot_) return;
    overtaken_->hide();
    pages_->setCurrentWidget(form_);
    form_->begin_with(snapshot_->picture.id, kind, values, why);
}

void RecordSheet::begin_new() {
    if (!begin_.empty() && begin_.front().second->isEnabled()) begin(*begin_.front().first);
}

void RecordSheet::remove_chosen() {
    const auto id = list_->chosen();
    const casebook::Record* record = id && snapshot_ ? snapshot_->find(*id) : nullptr;
    if (record == nullptr) return;
    auto done = usecases::remove_record(session_.acting(), *id, {}, record->newest_changes);
    if (!done) {
        emit session_.refused(done.error());
        return;
    }
    const casebook::Kind* kind = casebook::find_kind(record->kind);
    session_.did(*std::move(done), tr("removal of %1").arg(shown(kind != nullptr ? kind->label : "record")));
}

}  // namespace tedge::desk
