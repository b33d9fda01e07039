#include "sheets/dossier_panel.hpp"

#include <QComboBox>
#include <QHBoxLayout>
#include <QLabel>
#include <QProgressBar>
#include <QPushButton>
#include <QStyle>
#include <QVBoxLayout>
#include <algorithm>
#include <cmath>

#include "sheets/kinds_of.hpp"
#include "tedge/base/files.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

using casebook::Reader;
using casebook::Requirement;

constexpr int bar_steps = 1000;
constexpr int ask_delay_ms = 150;
constexpr int leaving_gate = 22;
constexpr std::array readers{Reader::buyer,   Reader::restorer, Reader::carrier,
                             Reader::insurer, Reader::scholar,  Reader::own};

// Where such a record can be opened; people stand on no sheet.
bool has_sheet(std::string_view kind) {
    return std::ranges::any_of(usecases::all_stages, [&](usecases::Stage stage) {
        const auto kinds = kinds_of(stage);
        return std::ranges::find(kinds, kind) != kinds.end();
    });
}

QString counted_pages(int count) {
    return count == 1 ? QObject::tr("1 page") : QObject::tr("%1 pages").arg(count);
}

void empty(QVBoxLayout& column) {
    while (QLayoutItem* old = column.takeAt(0)) {
        delete old->widget();
        delete old;
    }
}

}  // namespace

DossierPanel::DossierPanel(BookSession& session, QWidget* parent)
    : QWidget(parent),
      session_(session),
      reader_(new QComboBox(this)),
      missing_(new QVBoxLayout),
      make_(new QPushButton(tr("&Make the pages"), this)),
      doing_(new QLabel(this)),
      bar_(new QProgressBar(this)),
      cancel_(new QPushButton(tr("&Cancel"), this)),
      state_(new QLabel(this)),
      stale_(new QLabel(tr("△ The case was changed since these pages were made."), this)),
      acts_(new QWidget(this)) {
    make_layout();
    ask_soon_.setSingleShot(true);
    ask_soon_.setInterval(ask_delay_ms);
    connect_all();
    show_what_can_be_done();
}

void DossierPanel::make_layout() {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    auto* label = new QLabel(tr("&For"), this);
    label->setBuddy(reader_);
    for (const Reader reader : readers) reader_->addItem(shown(casebook::to_text(reader)));
    reader_->setAccessibleName(tr("Reader of the dossier"));
    for (QLabel* text : {state_, stale_, doing_}) text->setWordWrap(true);
    stale_->setProperty("role", "warning");
    make_->setProperty("act", "main");
    make_->setMinimumHeight(40);
    bar_->setRange(0, bar_steps);
    bar_->setAccessibleName(tr("How far the dossier is"));
    column->addWidget(label);
    column->addWidget(reader_);
    column->addLayout(missing_);
    for (QWidget* widget : std::initializer_list<QWidget*>{make_, doing_, bar_, cancel_, state_, stale_, acts_})
        column->addWidget(widget);
    make_acts();
}

// What can be done with pages once they are there.
void DossierPanel::make_acts() {
    auto* acts = new QVBoxLayout(acts_);
    acts->setContentsMargins(0, 0, 0, 0);
    const auto act = [&](const QString& text, auto what) {
        auto* made = new QPushButton(text, acts_);
        connect(made, &QPushButton::clicked, this, what);
        acts->addWidget(made);
    };
    act(tr("&Look at the pages"), [this] { emit pages_made(shown(to_utf8(made_->files.pdf))); });
    act(tr("Save the P&DF …"), [this] { save_pdf(); });
    act(tr("Save the &bag …"), [this] { save_bag(); });
    act(tr("P&rint …"), [this] { print(); });
}

void DossierPanel::connect_all() {
    connect(&ask_soon_, &QTimer::timeout, this, &DossierPanel::ask_gate);
    connect(reader_, &QComboBox::currentIndexChanged, this, [this] {
        drop_pages();
        asked_ = false;
        ask_soon_.start();
    });
    connect(make_, &QPushButton::clicked, this, &DossierPanel::make);
    connect(cancel_, &QPushButton::clicked, &work_, &LongWork::cancel);
    connect(&work_, &LongWork::progress, this, [this](double fraction, const QString& what) {
        bar_->setValue(static_cast<int>(std::lround(fraction * bar_steps)));
        doing_->setText(what);
    });
    connect(&work_, &LongWork::finished, this, &DossierPanel::show_what_can_be_done);
    connect(&session_, &BookSession::client_looks_changed, this, [this] {
        if (!may_be_seen()) drop_pages();
        asked_ = false;
        if (isVisible()) ask_soon_.start();
    });
}

Reader DossierPanel::reader() const {
    return readers.at(static_cast<std::size_t>(std::max(reader_->currentIndex(), 0)));
}

void DossierPanel::choose_reader(Reader reader) {
    const auto at = std::ranges::find(readers, reader);
    reader_->setCurrentIndex(static_cast<int>(at - readers.begin()));
}

QString DossierPanel::state() const {
    return state_->text();
}

// A client sees the pages meant for a buyer and no others.
bool DossierPanel::may_be_seen() const {
    return !session_.client_looks() || reader() == Reader::buyer;
}

void DossierPanel::show_case(const casebook::CaseSnapshot& snapshot) {
    const bool other = case_id_ != snapshot.picture.id;
    case_id_ = snapshot.picture.id;
    newest_ = snapshot.picture.last_written;
    records_ = snapshot.records.size();
    for (const casebook::Record& record : snapshot.records) newest_ = std::max(newest_, record.last_written);
    if (other) {
        if (work_.running()) work_.cancel();
        drop_pages();
    }
    asked_ = false;
    if (isVisible()) ask_soon_.start();
    show_what_can_be_done();
}

void DossierPanel::showEvent(QShowEvent* /*event*/) {
    if (!asked_) ask_soon_.start();
}

// --- the gate --------------------------------------------------------------------------------------------------------

void DossierPanel::ask_gate() {
    if (asking_.running()) return ask_soon_.start();
    asked_ = true;
    const Reader asked_for = reader();
    const Uuid case_id = case_id_;
    asking_.begin([this, how = session_.how(), case_id, asked_for](const Progress& /*progress*/) {
        const auto missing = missing_before(how, case_id, asked_for);
        asking_.tell([this, missing, case_id, asked_for] {
            if (missing && case_id == case_id_ && asked_for == reader()) show_missing(*missing);
        });
    });
}

void DossierPanel::show_missing(const std::vector<InTheWay>& missing) {
    empty(*missing_);
    closing_.clear();
    for (const InTheWay& each : missing) {
        if (each.requirement.closes) closing_.push_back(each);
    }
    // What a gate finds can name what a client must not see.
    if (session_.client_looks()) return;
    for (const InTheWay& each : closing_) show_requirement(each.requirement);
    show_way_past();
    for (const InTheWay& each : missing) {
        if (!each.requirement.closes) show_requirement(each.requirement);
    }
    tell_refusal_once();
}

void DossierPanel::show_requirement(const Requirement& requirement) {
    const QString mark = requirement.closes ? QStringLiteral("⊘ ") : QStringLiteral("△ ");
    auto* label = new QLabel(mark + shown(requirement.message + " " + requirement.opened_by), this);
    label->setProperty("role", requirement.closes ? "closed" : "warning");
    label->setWordWrap(true);
    missing_->addWidget(label);
    const auto leak = casebook::field_of_leaving_code(requirement.code);
    if (leak && requirement.record && has_sheet(leak->kind)) {
        const casebook::Kind* kind = casebook::find_kind(leak->kind);
        add_way(tr("Look at the %1").arg(shown(kind->label)),
                [this, record = *requirement.record] { emit record_wanted(record); });
    }
    const auto stage = stage_named(requirement.sheet);
    if (!stage || *stage == usecases::Stage::dossier) return;
    add_way(tr("Open the sheet %1").arg(shown(requirement.sheet)),
            [this, stage = *stage] { emit sheet_wanted(stage); });
}

void DossierPanel::add_way(const QString& text, const std::function<void()>& act) {
    auto* button = new QPushButton(text, this);
    connect(button, &QPushButton::clicked, this, act);
    missing_->addWidget(button);
}

void DossierPanel::show_way_past() {
    if (closing_.empty() || session_.book().read_only()) return;
    const bool by_law = std::ranges::any_of(closing_, [](const InTheWay& each) { return each.requirement.law; });
    if (by_law) {
        auto* label = new QLabel(tr("The law asks for this: nobody can let it pass, a document opens it."), this);
        label->setWordWrap(true);
        missing_->addWidget(label);
        return;
    }
    add_way(tr("Let it pass, by name and &reason …"), [this] { ask_for_override(); });
}

// --- the pages -------------------------------------------------------------------------------------------------------

void DossierPanel::say(const QString& text, const char* role) {
    refused_.clear();
    state_->setText(text);
    state_->setProperty("role", role);
    state_->style()->unpolish(state_);
    state_->style()->polish(state_);
}

// What only the finished files showed: the gate tells of it as of what it found itself.
void DossierPanel::show_leak(const Error& error) {
    const auto value = [&](const char* name) {
        const auto found = error.values.find(name);
        return found != error.values.end() ? found->second : std::string();
    };
    Requirement requirement;
    requirement.code = casebook::leaving_code({value("kind"), value("field")});
    requirement.message = error.message;
    requirement.opened_by = error.next;
    requirement.closes = true;
    if (const auto record = parse_uuid(value("record"))) requirement.record = *record;
    std::vector<InTheWay> missing = let_pass_;
    missing.push_back({leaving_gate, requirement});
    show_missing(missing);
}

void DossierPanel::say_error(const Error& error) {
    if (error.code == "dossier.leak") show_leak(error);
    if (error.code == "cancelled") return say(tr("Cancelled; nothing of it was kept."), "plain");
    say(QStringLiteral("⊘ ") + shown(error.message + " " + error.next), "closed");
    refused_ = error.message;
    tell_refusal_once();
}

// Said once, above, with what can be done about it: also where the gate answers later than a quick hand was refused.
void DossierPanel::tell_refusal_once() {
    const bool is_told_above = std::ranges::any_of(
        closing_, [&](const InTheWay& each) { return refused_.find(each.requirement.message) != std::string::npos; });
    if (is_told_above) say(tr("⊘ No pages were made: what is named above closes the gate."), "closed");
}

void DossierPanel::show_what_can_be_done() {
    const bool busy = work_.running();
    make_->setEnabled(!busy && may_be_seen());
    reader_->setEnabled(!busy);
    for (QWidget* widget : std::initializer_list<QWidget*>{doing_, bar_, cancel_}) widget->setVisible(busy);
    state_->setVisible(!busy && !state_->text().isEmpty());
    acts_->setVisible(!busy && made_.has_value());
    stale_->setVisible(made_ && (newest_ != made_->files.newest || records_ != made_->files.records));
}

void DossierPanel::drop_pages() {
    if (made_) emit pages_gone();
    made_.reset();
    say({}, "plain");
    show_what_can_be_done();
}

void DossierPanel::work_on(const QString& what, LongWork::Act act) {
    if (work_.running()) return;
    doing_->setText(what);
    bar_->setValue(0);
    work_.begin(std::move(act));
    show_what_can_be_done();
}

void DossierPanel::make() {
    let_pass_.clear();
    make_passing({});
}

void DossierPanel::make_passing(const std::vector<usecases::Override>& overrides) {
    if (work_.running() || !may_be_seen()) return;
    drop_pages();
    work_on(tr("Composing"),
            [this, how = session_.how(), id = case_id_, reader = reader(), overrides](const Progress& progress) {
                auto made = make_dossier(how, id, reader, progress, overrides);
                work_.tell([this, id, made = std::move(made), written = !overrides.empty()] {
                    if (id == case_id_) finish_making(made);
                    if (written) emit session_.changed();  // the overrides stand in the case now
                });
            });
}

void DossierPanel::finish_making(const Expected<MadeDossier>& made) {
    if (!made) return say_error(made.error());
    made_ = *made;
    if (!may_be_seen()) return drop_pages();
    say(tr("%1 for the %2").arg(counted_pages(made->files.pages), shown(casebook::to_text(made->reader))), "done");
    emit pages_made(shown(to_utf8(made->files.pdf)));
}

void DossierPanel::tell(const Expected<void>& result, const QString& done) {
    if (!result) return say_error(result.error());
    say(done, "done");
}

void DossierPanel::save_pdf_as(const QString& file) {
    if (!made_) return;
    work_on(tr("Saving the PDF"), [this, made = *made_, file](const Progress& /*progress*/) {
        const auto kept = keep_pdf(made, path_from_utf8(plain(file)));
        work_.tell([this, kept, file] { tell(kept, tr("Saved as %1").arg(file)); });
    });
}

void DossierPanel::save_bag_in(const QString& folder) {
    if (!made_) return;
    const auto target = path_from_utf8(plain(folder)) / made_->files.bag.filename();
    work_on(tr("Saving the bag"), [this, made = *made_, target](const Progress& progress) {
        const auto kept = keep_bag(made, target, progress);
        work_.tell([this, kept, target] { tell(kept, tr("Saved as %1").arg(shown(to_utf8(target)))); });
    });
}

void DossierPanel::print_on(const std::shared_ptr<QPrinter>& printer) {
    if (!made_) return;
    work_on(tr("Printing"), [this, made = *made_, printer](const Progress& progress) {
        const auto printed = print_pages(made.files.pdf, *printer, progress);
        const int count = printed.value_or(0);
        const Expected<void> result = printed ? Expected<void>() : Expected<void>(pass_on(printed));
        work_.tell([this, result, count] { tell(result, tr("%1 given to the printer").arg(counted_pages(count))); });
    });
}

}  // namespace tedge::desk
