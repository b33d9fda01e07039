#include "sheets/record_sheet.hpp"

#include <QHBoxLayout>
#include <QLabel>
#include <QListWidget>
#include <QPushButton>
#include <QScrollArea>
#include <QStackedWidget>
#include <QVBoxLayout>
#include <algorithm>

#include "client_screen.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

const char* role_of(Tone tone) {
    switch (tone) {
        case Tone::done:
            return "done";
        case Tone::warning:
            return "warning";
        case Tone::closed:
            return "closed";
        case Tone::plain:
            break;
    }
    return "plain";
}

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
    }
    return {};
}

QScrollArea* scrolled(QWidget* inside, QWidget* parent) {
    auto* area = new QScrollArea(parent);
    area->setWidget(inside);
    area->setWidgetResizable(true);
    area->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    area->setFocusPolicy(Qt::NoFocus);
    return area;
}

}  // namespace

RecordSheet::RecordSheet(usecases::Stage stage, BookSession& session, Drafts& drafts, QWidget* parent)
    : QWidget(parent),
      stage_(stage),
      session_(session),
      answer_(new QVBoxLayout),
      panels_(new QVBoxLayout),
      list_(new QListWidget(this)),
      overview_(new QWidget(this)),
      pages_(new QStackedWidget(this)),
      form_(new RecordForm(session, drafts, this)),
      remove_(new QPushButton(tr("&Remove the chosen record"), this)) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->addWidget(pages_);
    auto* overview = new QVBoxLayout(overview_);
    auto* title = new QLabel(title_of(stage), overview_);
    title->setFont(heading_font());
    overview->addWidget(title);
    overview->addLayout(answer_);
    overview->addLayout(panels_);
    list_->setAccessibleName(tr("Records of the sheet %1").arg(shown(to_text(stage))));
    list_->setWordWrap(true);
    list_->setMinimumHeight(140);
    overview->addWidget(list_, 1);
    add_kind_buttons();
    overview->addWidget(remove_);
    pages_->addWidget(scrolled(overview_, pages_));
    pages_->addWidget(scrolled(form_, pages_));
    connect(list_, &QListWidget::itemActivated, this, [this](QListWidgetItem* item) {
        if (const auto id = parse_uuid(plain(item->data(Qt::UserRole).toString()))) open_record(*id);
    });
    connect(list_, &QListWidget::currentItemChanged, this, [this](QListWidgetItem* item) {
        remove_->setEnabled(item != nullptr);
        if (item == nullptr) return;
        if (const auto id = parse_uuid(plain(item->data(Qt::UserRole).toString()))) emit record_chosen(*id);
    });
    connect(remove_, &QPushButton::clicked, this, &RecordSheet::remove_chosen);
    connect(form_, &RecordForm::closed, this, [this] { pages_->setCurrentIndex(0); });
    connect(form_, &RecordForm::saved, this, [this] { pages_->setCurrentIndex(0); });
    connect(form_, &RecordForm::place_wanted, this, &RecordSheet::place_wanted);
}

void RecordSheet::add_kind_buttons() {
    for (const std::string_view name : kinds_of(stage_)) {
        // Photographs come by the intake, the others of these are written by the program.
        if (name == "photograph" || name == "registration" || name == "ceiling" || name == "gate_override") continue;
        const casebook::Kind* kind = casebook::find_kind(name);
        auto* add = new QPushButton(tr("Record a %1").arg(shown(kind->label)), overview_);
        if (name == kinds_of(stage_).front()) add->setProperty("act", "main");
        add->setMinimumHeight(40);
        connect(add, &QPushButton::clicked, this, [this, kind] {
            if (!snapshot_) return;
            pages_->setCurrentIndex(1);
            form_->begin_new(snapshot_->picture.id, *kind);
        });
        overview_->layout()->addWidget(add);
    }
}

void RecordSheet::add_panel(QWidget* panel) {
    panels_->addWidget(panel);
}

bool RecordSheet::holds(std::string_view kind) const {
    const auto kinds = kinds_of(stage_);
    return std::ranges::find(kinds, kind) != kinds.end();
}

void RecordSheet::show_case(const casebook::CaseSnapshot& snapshot) {
    const bool other_case = !snapshot_ || snapshot_->picture.id != snapshot.picture.id;
    snapshot_ = snapshot;
    if (other_case) pages_->setCurrentIndex(0);
    show_answer(snapshot);
    show_records(snapshot);
}

void RecordSheet::show_answer(const casebook::CaseSnapshot& snapshot) {
    while (QLayoutItem* old = answer_->takeAt(0)) {
        delete old->widget();
        delete old;
    }
    for (const AnswerLine& line : answer_of(stage_, snapshot, session_.client_looks())) {
        auto* label = new QLabel(line.text, overview_);
        label->setProperty("role", role_of(line.tone));
        label->setWordWrap(true);
        label->setTextInteractionFlags(Qt::TextSelectableByMouse);
        answer_->addWidget(label);
    }
}

void RecordSheet::show_records(const casebook::CaseSnapshot& snapshot) {
    const int row = list_->currentRow();
    list_->clear();
    for (const std::string_view name : kinds_of(stage_)) {
        const casebook::Kind* kind = casebook::find_kind(name);
        if (session_.client_looks() && hidden_from_client(*kind)) continue;
        for (const casebook::Record* record : snapshot.of_kind(name)) {
            auto* item = new QListWidgetItem(
                shown(std::string(kind->label) + ": " + headline(*record, session_.client_looks())), list_);
            item->setData(Qt::UserRole, shown(to_text(record->id)));
        }
    }
    list_->setCurrentRow(std::min(row, list_->count() - 1));
    remove_->setEnabled(list_->currentItem() != nullptr);
}

void RecordSheet::open_record(const Uuid& record) {
    const casebook::Record* found = snapshot_ ? snapshot_->find(record) : nullptr;
    if (found == nullptr) return;
    pages_->setCurrentIndex(1);
    form_->edit(*found);
}

void RecordSheet::begin_new() {
    if (!snapshot_ || stage_ == usecases::Stage::photographs || stage_ == usecases::Stage::ceiling) return;
    pages_->setCurrentIndex(1);
    form_->begin_new(snapshot_->picture.id, *casebook::find_kind(kinds_of(stage_).front()));
}

void RecordSheet::remove_chosen() {
    const QListWidgetItem* item = list_->currentItem();
    const auto id =
        item != nullptr ? parse_uuid(plain(item->data(Qt::UserRole).toString())) : Expected<Uuid>(fail("", ""));
    if (!id) return;
    auto done = usecases::remove_record(session_.acting(), *id);
    if (!done) {
        emit session_.refused(done.error());
        return;
    }
    session_.did(*std::move(done), tr("removal"));
}

}  // namespace tedge::desk
