#include "photographs/missing_panel.hpp"

#include <QHBoxLayout>
#include <QInputDialog>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>
#include <algorithm>

#include "tedge/usecases/say_photographs.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

constexpr std::size_t rows_in_sight = 4;

QString name_of(const usecases::Shot& shot) {
    return capital(spoken(shot.stage)) + QStringLiteral(": ") + spoken(shot.face) + QStringLiteral(", ") +
           spoken(shot.light);
}

QString text_of(const usecases::ListedShot& row) {
    QStringList parts{QStringLiteral("○ ") + name_of(row.shot)};
    if (!row.how.empty()) parts << shown(row.how) + u'.';
    if (!row.note.empty()) parts << shown(row.note);
    if (row.is_past) parts << QObject::tr("The work has gone on since: it may be too late.");
    return parts.join(QStringLiteral(" — "));
}

}  // namespace

MissingPanel::MissingPanel(BookSession& session, QWidget* parent)
    : QWidget(parent),
      session_(session),
      head_(new QLabel(this)),
      caution_(new QLabel(this)),
      column_(new QVBoxLayout(this)),
      confirm_(new QPushButton(this)),
      more_(new QPushButton(this)) {
    column_->setContentsMargins(0, 0, 0, 0);
    head_->setProperty("role", "heading");
    caution_->setProperty("role", "warning");
    for (QLabel* label : {head_, caution_}) label->setWordWrap(true);
    for (QWidget* each : std::initializer_list<QWidget*>{head_, caution_, more_, confirm_}) column_->addWidget(each);
    connect(confirm_, &QPushButton::clicked, this, &MissingPanel::confirm_guesses);
    connect(more_, &QPushButton::clicked, this, [this] {
        is_open_ = !is_open_;
        show_list();
    });
}

void MissingPanel::show_case(const casebook::CaseSnapshot& snapshot) {
    if (case_id_ != snapshot.picture.id) is_open_ = false;
    case_id_ = snapshot.picture.id;
    list_ = usecases::shot_list(snapshot);
    guessed_.clear();
    for (const casebook::Record* photograph : snapshot.of_kind("photograph")) {
        if (photograph->body.flag("guessed")) guessed_.push_back(photograph->id);
    }
    show_list();
}

void MissingPanel::show_list() {
    auto missing = list_.in_state(usecases::ShotState::missing);
    // What can still be taken first.
    std::ranges::stable_sort(missing, {}, &usecases::ListedShot::is_past);
    delete shots_;
    shots_ = new QWidget(this);
    auto* rows = new QVBoxLayout(shots_);
    rows->setContentsMargins(0, 0, 0, 0);
    column_->insertWidget(2, shots_);
    const std::size_t count = is_open_ ? missing.size() : std::min(missing.size(), rows_in_sight);
    for (std::size_t i = 0; i < count; ++i) add_shot(*missing[i]);
    head_->setText(missing.empty() ? tr("✓ No photograph of the list is missing")
                                   : tr("What is still missing: %1").arg(missing.size()));
    QStringList cautions;
    for (const std::string& caution : list_.cautions) cautions << QStringLiteral("△ ") + shown(caution);
    caution_->setText(cautions.join(u'\n'));
    caution_->setVisible(!cautions.isEmpty());
    more_->setVisible(missing.size() > rows_in_sight);
    more_->setText(is_open_ ? tr("Only the &first") : tr("A&ll %1").arg(missing.size()));
    confirm_->setVisible(!guessed_.empty() && !session_.book().read_only());
    confirm_->setText(tr("Con&firm what was guessed of %1").arg(guessed_.size()));
    confirm_->setToolTip(tr("Face, light and stage of these photographs were guessed and are right as they stand"));
}

void MissingPanel::add_shot(const usecases::ListedShot& row) {
    auto* line = new QWidget(shots_);
    auto* beside = new QHBoxLayout(line);
    beside->setContentsMargins(0, 0, 0, 0);
    auto* text = new QLabel(text_of(row), line);
    text->setWordWrap(true);
    text->setToolTip(row.source.empty() ? QString() : tr("%1 (%2)").arg(shown(row.source), shown(row.status)));
    auto* why_not = new QPushButton(tr("Not needed …"), line);
    why_not->setAccessibleName(tr("Not needed: %1").arg(name_of(row.shot)));
    connect(why_not, &QPushButton::clicked, this, [this, shot = row.shot] { ask_why_not(shot); });
    beside->addWidget(text, 1);
    beside->addWidget(why_not);
    shots_->layout()->addWidget(line);
}

void MissingPanel::ask_why_not(const usecases::Shot& shot) {
    bool is_said = false;
    const QString why = QInputDialog::getText(
        this, tr("Not needed"), tr("%1 is not needed, because").arg(name_of(shot)), QLineEdit::Normal, {}, &is_said);
    if (is_said && !why.trimmed().isEmpty()) not_needed(shot, why.trimmed());
}

void MissingPanel::not_needed(const usecases::Shot& shot, const QString& why) {
    auto done = usecases::wish_shot(session_.acting(), case_id_, {shot, "", plain(why)});
    if (!done) {
        emit session_.refused(done.error());
        return;
    }
    session_.did(*std::move(done), tr("a photograph that is not needed"));
}

void MissingPanel::confirm_guesses() {
    usecases::SaidOfPhotographs said;
    said.confirms = true;
    const auto done = usecases::say_photographs(session_.acting(), guessed_, said);
    if (!done) {
        emit session_.refused(done.error());
        return;
    }
    session_.did(*done, done->size() == 1 ? tr("a guess that was confirmed") : tr("guesses that were confirmed"));
}

}  // namespace tedge::desk
