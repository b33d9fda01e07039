#include "sheets/dossier_panel.hpp"

#include <QComboBox>
#include <QHBoxLayout>
#include <QLabel>
#include <QProgressBar>
#include <QPushButton>
#include <QStyle>
#include <QVBoxLayout>
#include <algorithm>

#include "tedge/base/files.hpp"
#include "text.hpp"
#include "work_bar.hpp"

namespace tedge::desk {

namespace {

using casebook::Reader;

constexpr int ask_delay_ms = 150;
constexpr std::array readers{Reader::buyer,   Reader::restorer, Reader::carrier,
                             Reader::insurer, Reader::scholar,  Reader::own};

QString counted_pages(int count) {
    return count == 1 ? QObject::tr("1 page") : QObject::tr("%1 pages").arg(count);
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
    begin_work_bar(*bar_);
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
        show_work_done(*bar_, fraction);
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

// --- the pages -------------------------------------------------------------------------------------------------------

void DossierPanel::say(const QString& text, const char* role) {
    refused_.clear();
    state_->setText(text);
    state_->setProperty("role", role);
    state_->style()->unpolish(state_);
    state_->style()->polish(state_);
}

void DossierPanel::say_error(const Error& error) {
    if (error.code == "dossier.leak") show_leak(error);
    if (error.code == "cancelled") return say(tr("Cancelled; nothing of it was kept."), "plain");
    say(QStringLiteral("⊘ ") + shown(error.message + " " + error.next), "closed");
    refused_ = error.message;
    tell_refusal_once();
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
