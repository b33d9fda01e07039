#include "forms/entries/file_entry.hpp"

#include <QDropEvent>
#include <QFile>
#include <QFileDialog>
#include <QFileInfo>
#include <QLabel>
#include <QMimeData>
#include <QPushButton>
#include <QVBoxLayout>

#include "forms/flow_layout.hpp"

namespace tedge::desk {

namespace {

bool is_path(const QString& text) {
    return QFileInfo(text).isAbsolute();
}

// One file of this computer, or "".
QString dropped_file(const QMimeData& data) {
    const auto urls = data.urls();
    return urls.size() == 1 && urls.front().isLocalFile() ? urls.front().toLocalFile() : QString();
}

}  // namespace

FileEntry::FileEntry(Originals originals, QWidget* parent)
    : Entry(parent), originals_(std::move(originals)), said_(new QLabel(this)) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    said_->setWordWrap(true);
    column->addWidget(said_);
    auto* buttons = new QWidget(this);
    auto* row = new FlowLayout(buttons);
    const auto button = [&](const QString& text, auto act) {
        auto* made = new QPushButton(text, buttons);
        made->setMinimumHeight(target_px);
        connect(made, &QPushButton::clicked, this, act);
        row->addWidget(made);
        return made;
    };
    choose_ = button(tr("Choose a file …"), &FileEntry::choose);
    copy_ = button(tr("Save a copy …"), &FileEntry::save_copy);
    take_off_ = button(tr("Without a file"), [this] { set_typed({}); });
    column->addWidget(buttons);
    setAcceptDrops(true);
    set_typed({});
}

QString FileEntry::typed() const {
    return text_;
}

void FileEntry::set_typed(const QString& text) {
    text_ = text;
    const bool is_kept = !text.isEmpty() && !is_path(text);
    said_->setText(text.isEmpty() ? tr("None yet: choose one, or drop it here.")
                   : is_kept      ? tr("Kept in the casebook.")
                                  : QFileInfo(text).fileName());
    copy_->setVisible(is_kept);
    take_off_->setVisible(!text.isEmpty());
    emit edited();
}

QWidget* FileEntry::focused() const {
    return choose_;
}

void FileEntry::set_name(const QString& name) {
    for (QPushButton* each : {choose_, copy_, take_off_})
        each->setAccessibleName(name + QStringLiteral(": ") + each->text());
}

void FileEntry::dragEnterEvent(QDragEnterEvent* event) {
    if (!dropped_file(*event->mimeData()).isEmpty()) event->acceptProposedAction();
}

void FileEntry::dropEvent(QDropEvent* event) {
    set_typed(dropped_file(*event->mimeData()));
    event->acceptProposedAction();
}

void FileEntry::choose() {
    const QString file = QFileDialog::getOpenFileName(this, tr("The document's file"));
    if (!file.isEmpty()) set_typed(file);
}

void FileEntry::save_copy() {
    const QString to = QFileDialog::getSaveFileName(this, tr("Save a copy of the document"));
    if (to.isEmpty()) return;
    if (QFile::exists(to)) QFile::remove(to);  // the dialog asked
    QFile kept(QString::fromStdString(originals_(text_).string()));
    said_->setText(kept.copy(to) ? tr("A copy lies in %1.").arg(to)
                                 : tr("No copy was made: %1. Choose another folder.").arg(kept.errorString()));
}

}  // namespace tedge::desk
