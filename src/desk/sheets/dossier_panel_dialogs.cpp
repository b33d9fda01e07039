// Where to, and on which printer: the only questions the dossier asks in a window of their own.
#include <QFileDialog>
#include <QPrintDialog>
#include <QPrinter>

#include "forms/override_dialog.hpp"
#include "sheets/dossier_panel.hpp"
#include "tedge/base/files.hpp"
#include "text.hpp"

namespace tedge::desk {

void DossierPanel::save_pdf() {
    if (!made_) return;
    const QString name = shown(to_utf8(made_->files.pdf.filename()));
    const QString file = QFileDialog::getSaveFileName(this, tr("Save the PDF"), name, tr("PDF (*.pdf)"));
    if (!file.isEmpty()) save_pdf_as(file);
}

void DossierPanel::save_bag() {
    if (!made_) return;
    const QString folder = QFileDialog::getExistingDirectory(this, tr("The folder the bag is put into"));
    if (!folder.isEmpty()) save_bag_in(folder);
}

void DossierPanel::ask_for_override() {
    OverrideDialog dialog(closing_, shown(session_.how().author), this);
    if (dialog.exec() != QDialog::Accepted) return;
    let_pass_ = closing_;
    make_passing(dialog.overrides(case_id_));
}

void DossierPanel::print() {
    if (!made_) return;
    const auto printer = std::make_shared<QPrinter>(QPrinter::HighResolution);
    printer->setPageSize(QPageSize(QPageSize::A4));
    printer->setDocName(shown(to_utf8(made_->files.pdf.stem())));
    QPrintDialog dialog(printer.get(), this);
    dialog.setWindowTitle(tr("Print the dossier"));
    dialog.setOption(QAbstractPrintDialog::PrintPageRange);
    dialog.setMinMax(1, made_->files.pages);
    if (dialog.exec() == QDialog::Accepted) print_on(printer);
}

}  // namespace tedge::desk
