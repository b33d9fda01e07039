#include "opening_dialog.hpp"

#include <QDir>
#include <QFileDialog>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QSettings>
#include <QVBoxLayout>

#include "tedge/base/files.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

constexpr int usual_width_px = 520;
const QString last_folder = QStringLiteral("last-casebook");
const QString last_person = QStringLiteral("who-works");

QString sentence_of(const Error& error) {
    return shown(error.message + " " + error.next);
}

}  // namespace

OpeningDialog::OpeningDialog(Clock& clock, IdSource& ids, const QString& who, QWidget* parent)
    : QDialog(parent), clock_(clock), ids_(ids) {
    const QSettings kept;
    last_ = kept.value(last_folder).toString();
    setWindowTitle(tr("Tacking Edge"));
    setMinimumWidth(usual_width_px);
    auto* column = new QVBoxLayout(this);
    auto* heading = new QLabel(tr("Which casebook?"), this);
    heading->setFont(heading_font());
    column->addWidget(heading);
    auto* asked = new QLabel(tr("&Who works"), this);
    who_ = new QLineEdit(kept.value(last_person, who).toString(), this);
    asked->setBuddy(who_);
    column->addWidget(asked);
    column->addWidget(who_);
    if (!last_.isEmpty()) {
        add_button(tr("Open the &last one: %1").arg(QDir::toNativeSeparators(last_)), last_, &OpeningDialog::open_last);
    }
    add_button(tr("&Open a casebook …"), tr("The folder of a casebook that is there already"),
               &OpeningDialog::ask_to_open);
    add_button(tr("&Begin a new casebook …"), tr("An empty folder, or the name of one to be made"),
               &OpeningDialog::ask_to_begin);
    note_ = new QLabel(this);
    note_->setWordWrap(true);
    note_->setProperty("role", "closed");
    column->addWidget(note_);
}

void OpeningDialog::add_button(const QString& text, const QString& tip, void (OpeningDialog::*act)()) {
    auto* button = new QPushButton(text, this);
    button->setToolTip(tip);
    connect(button, &QPushButton::clicked, this, act);
    layout()->addWidget(button);
}

void OpeningDialog::say(const QString& sentence) {
    note_->setText(sentence);
}

QString OpeningDialog::note() const {
    return note_->text();
}

void OpeningDialog::open_last() {
    open_folder(last_);
}

void OpeningDialog::ask_to_open() {
    const QString folder = QFileDialog::getExistingDirectory(this, tr("The folder of the casebook"), last_);
    if (!folder.isEmpty()) open_folder(folder);
}

void OpeningDialog::ask_to_begin() {
    const QString folder = QFileDialog::getSaveFileName(this, tr("A folder for the new casebook"), QDir::homePath());
    if (!folder.isEmpty()) begin_in(folder);
}

void OpeningDialog::open_folder(const QString& folder) {
    const QString who = who_->text().trimmed();
    auto session = BookSession::open({path_from_utf8(plain(folder)), plain(who), &clock_, &ids_});
    if (!session) {
        if (session.error().code == nobody_works) who_->setFocus();
        return say(sentence_of(session.error()));
    }
    session_ = *std::move(session);
    QSettings kept;
    kept.setValue(last_folder, QDir(folder).absolutePath());
    if (!who.isEmpty()) kept.setValue(last_person, who);  // nobody's name is wanted for a look
    accept();
}

void OpeningDialog::begin_in(const QString& folder) {
    if (who_->text().trimmed().isEmpty()) return say(sentence_of(nobody_works_error()));
    const auto made = casebook::Casebook::create(path_from_utf8(plain(folder)), {&clock_, &ids_});
    if (!made) return say(sentence_of(made.error()));
    open_folder(folder);
}

}  // namespace tedge::desk
