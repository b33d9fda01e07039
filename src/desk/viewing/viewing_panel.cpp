#include "viewing/viewing_panel.hpp"

#include <QClipboard>
#include <QFileDialog>
#include <QGuiApplication>
#include <QInputDialog>
#include <QLabel>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QVBoxLayout>
#include <algorithm>

#include "forms/flow_layout.hpp"
#include "tedge/base/files.hpp"
#include "tedge/usecases/viewing.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

constexpr std::size_t unseen_named = 5;

QString question_words(const usecases::Known& known) {
    const QString asked = shown(known.question.text).toLower();
    return known.why.empty() ? asked : QObject::tr("%1 (%2)").arg(asked, spoken(known.why));
}

// "Seen: 9 of 14. Not seen: lined before (framed), loose paint …"
QString seen_words(const std::vector<usecases::Known>& known) {
    QStringList unseen, unasked;
    for (const usecases::Known& one : known) {
        if (one.answer == "not-seen") unseen << question_words(one);
        if (one.answer.empty()) unasked << question_words(one);
    }
    const auto some = [](const QStringList& of) {
        const qsizetype more = of.size() - static_cast<qsizetype>(unseen_named);
        const QString first = of.mid(0, unseen_named).join(QStringLiteral(", "));
        return more > 0 ? QObject::tr("%1 and %2 more").arg(first).arg(more) : first;
    };
    QStringList lines{QObject::tr("Answered: %1 of %2 questions.")
                          .arg(static_cast<qsizetype>(known.size()) - unseen.size() - unasked.size())
                          .arg(known.size())};
    if (!unseen.isEmpty()) lines << QObject::tr("△ Not seen: %1.").arg(some(unseen));
    if (!unasked.isEmpty() && unasked.size() < static_cast<qsizetype>(known.size()))
        lines << QObject::tr("△ Nobody was asked: %1.").arg(some(unasked));
    return lines.join(u'\n');
}

}  // namespace

ViewingPanel::ViewingPanel(BookSession& session, QWidget* parent)
    : QWidget(parent),
      session_(session),
      seen_(new QLabel(this)),
      told_(new QLabel(this)),
      brief_(new QPushButton(tr("&Questions for a viewer …"), this)),
      answers_(new QPushButton(tr("Take in the &answers …"), this)),
      work_(new LongWork(this)) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    auto* copy = new QPushButton(tr("Copy them as te&xt"), this);
    auto* acts = new FlowLayout;
    for (QPushButton* each : {brief_, copy, answers_}) acts->addWidget(each);
    for (QLabel* label : {seen_, told_}) label->setWordWrap(true);
    told_->setTextInteractionFlags(Qt::TextSelectableByMouse);
    told_->hide();
    column->addWidget(seen_);
    column->addLayout(acts);
    column->addWidget(told_);
    connect(brief_, &QPushButton::clicked, this, &ViewingPanel::ask_for_folder);
    connect(copy, &QPushButton::clicked, this, &ViewingPanel::copy_text);
    connect(answers_, &QPushButton::clicked, this, &ViewingPanel::ask_for_message);
    connect(work_, &LongWork::finished, this, [this] {
        brief_->setEnabled(true);
        emit written();
    });
    connect(&session_, &BookSession::client_looks_changed, this, [this](bool looks) { setVisible(!looks); });
}

void ViewingPanel::show_case(const casebook::CaseSnapshot& snapshot) {
    if (snapshot_ && snapshot_->picture.id != snapshot.picture.id) told_->hide();
    snapshot_ = snapshot;
    setVisible(!session_.client_looks());
    answers_->setEnabled(!session_.book().read_only());
    seen_->setVisible(!snapshot.of_kind("viewing_note").empty());
    seen_->setText(seen_words(usecases::what_was_seen(snapshot)));
}

void ViewingPanel::say(const QString& text, const char* role) {
    say_in(*told_, text, role);
    told_->show();
}

void ViewingPanel::ask_for_folder() {
    const QString folder = QFileDialog::getExistingDirectory(this, tr("The folder the questions are put into"));
    if (!folder.isEmpty()) write_brief_into(folder);
}

void ViewingPanel::write_brief_into(const QString& folder) {
    if (!snapshot_ || work_->running()) return;
    brief_->setEnabled(false);
    const auto put_into = path_from_utf8(plain(folder));
    work_->begin([this, how = session_.how(), id = snapshot_->picture.id, put_into](const Progress& progress) {
        auto worker = open_for_worker(how);
        const auto files = worker ? usecases::write_brief(worker->book, id, put_into, how.clock->now(), progress)
                                  : Expected<usecases::BriefFiles>(pass_on(worker));
        work_->tell([this, files] {
            if (files)
                say(tr("Saved %1, and the same as plain text beside it.").arg(shown(to_utf8(files->pdf))), "done");
            else
                say(shown(files.error().message + " " + files.error().next), "closed");
        });
    });
}

void ViewingPanel::copy_text() {
    if (!snapshot_) return;
    QGuiApplication::clipboard()->setText(shown(usecases::brief_text(usecases::viewing_brief(*snapshot_))));
    say(tr("The questions are on the clipboard: paste them into a message."), "done");
}

void ViewingPanel::ask_for_message() {
    QInputDialog dialog(this);
    dialog.setOption(QInputDialog::UsePlainTextEditForTextInput);
    dialog.setWindowTitle(tr("What the viewer answered"));
    dialog.setLabelText(tr("The message as it came: “1 yes”, “2 no”, “3 not seen, framed”, a line each."));
    // With the keyboard alone one gets out of the text again.
    for (auto* text : dialog.findChildren<QPlainTextEdit*>()) text->setTabChangesFocus(true);
    if (dialog.exec() == QDialog::Accepted && !dialog.textValue().trimmed().isEmpty()) take_in(dialog.textValue());
}

void ViewingPanel::take_in(const QString& message) {
    if (!snapshot_) return;
    auto taken = usecases::take_in_answers(session_.acting(), snapshot_->picture.id, plain(message));
    if (!taken) return say(shown(taken.error().message + " " + taken.error().next), "closed");
    QString told = tr("%1 answers taken in.").arg(taken->read.answers.size());
    if (!taken->read.not_understood.empty()) {
        told += tr("\n△ Not understood, and kept with the note as it came:");
        for (const std::string& line : taken->read.not_understood) told += QStringLiteral("\n“%1”").arg(shown(line));
    }
    const bool is_whole = taken->read.not_understood.empty();
    session_.did(std::move(taken->done), tr("the viewer's answers"));
    say(told, is_whole ? "done" : "warning");
}

}  // namespace tedge::desk
