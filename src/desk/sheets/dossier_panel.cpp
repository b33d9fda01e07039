#include "sheets/dossier_panel.hpp"

#include <QComboBox>
#include <QDesktopServices>
#include <QFileDialog>
#include <QLabel>
#include <QPushButton>
#include <QUrl>
#include <QVBoxLayout>

#include "tedge/base/files.hpp"
#include "tedge/usecases/dossiers.hpp"
#include "text.hpp"

namespace tedge::desk {

DossierPanel::DossierPanel(BookSession& session, QWidget* parent)
    : QWidget(parent),
      session_(session),
      reader_(new QComboBox(this)),
      state_(new QLabel(this)),
      write_(new QPushButton(tr("&Write the dossier …"), this)),
      open_(new QPushButton(tr("&Look at it or print it"), this)) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    auto* label = new QLabel(tr("&For"), this);
    label->setBuddy(reader_);
    reader_->addItems({QStringLiteral("buyer"), QStringLiteral("restorer"), QStringLiteral("carrier"),
                       QStringLiteral("insurer"), QStringLiteral("scholar"), QStringLiteral("own")});
    reader_->setAccessibleName(tr("Reader of the dossier"));
    state_->setWordWrap(true);
    write_->setProperty("act", "main");
    open_->hide();
    for (QWidget* widget : std::initializer_list<QWidget*>{label, reader_, write_, state_, open_})
        column->addWidget(widget);
    connect(write_, &QPushButton::clicked, this, &DossierPanel::write);
    connect(open_, &QPushButton::clicked, this, [this] { QDesktopServices::openUrl(QUrl::fromLocalFile(pdf_)); });
}

void DossierPanel::write() {
    const QString folder = QFileDialog::getExistingDirectory(this, tr("Where to"));
    if (folder.isEmpty()) return;
    write_->setEnabled(false);
    open_->hide();
    state_->setProperty("role", "plain");
    state_->setText(tr("Writing …"));
    worker_ =
        std::jthread([this, id = case_id_, reader = plain(reader_->currentText()), out = path_from_utf8(plain(folder))](
                         const std::stop_token& stop) { work(stop, id, reader, out); });
}

void DossierPanel::work(const std::stop_token& stop, const Uuid& case_id, const std::string& reader_name,
                        const std::filesystem::path& out) {
    const BookSession::Opened& how = session_.how();
    auto book = casebook::Casebook::open(how.folder, {how.clock, how.ids});
    const auto author = book ? book->person_named(how.author) : Expected<Uuid>(pass_on(book));
    const auto reader = usecases::parse_reader(reader_name);
    const auto written =
        author && reader
            ? usecases::write_case_dossier({*book, *author, *how.clock}, case_id, *reader, out, Progress(stop, {}))
            : Expected<usecases::WrittenDossier>(fail("", "The casebook cannot be read."));
    const QString text = written ? tr("%1 pages in %2").arg(written->pages).arg(shown(to_utf8(written->pdf)))
                                 : shown(written.error().message + " " + written.error().next);
    const QString pdf = written ? shown(to_utf8(written->pdf)) : QString();
    QMetaObject::invokeMethod(this, [this, text, pdf] { finish(text, pdf.isEmpty(), pdf); });
}

void DossierPanel::finish(const QString& text, bool closed, const QString& pdf) {
    state_->setText(closed ? QStringLiteral("⊘ ") + text : text);
    state_->setProperty("role", closed ? "closed" : "done");
    pdf_ = pdf;
    open_->setVisible(!closed);
    write_->setEnabled(true);
}

}  // namespace tedge::desk
