#include "photographs/rights_dialog.hpp"

#include <QDialogButtonBox>
#include <QFormLayout>
#include <QLabel>
#include <QLineEdit>
#include <algorithm>

#include "forms/entries/entry.hpp"
#include "tedge/usecases/say_photographs.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

constexpr int width_px = 420;

QString author_of(const casebook::CaseSnapshot& snapshot, const casebook::Record& photograph) {
    const auto author = photograph.body.record("author");
    const casebook::Record* person = author ? snapshot.find(*author) : nullptr;
    return person != nullptr ? shown(person->body.text_or("name")) : QString();
}

// Empty where they differ.
template <class Says>
QString common(const casebook::CaseSnapshot& snapshot, const std::vector<Uuid>& photographs, Says says) {
    std::vector<QString> said;
    for (const Uuid& id : photographs) {
        if (const casebook::Record* photograph = snapshot.find(id)) said.push_back(says(*photograph));
    }
    const bool alike = !said.empty() && std::ranges::all_of(said, [&](const QString& each) { return each == said[0]; });
    return alike ? said.front() : QString();
}

}  // namespace

RightsDialog::RightsDialog(BookSession& session, const casebook::CaseSnapshot& snapshot, std::vector<Uuid> photographs,
                           QWidget* parent)
    : QDialog(parent),
      session_(session),
      photographs_(std::move(photographs)),
      photographer_(new QLineEdit(this)),
      licence_(new QLineEdit(this)),
      fault_(new QLabel(this)) {
    setWindowTitle(tr("Photographer and licence"));
    setMinimumWidth(width_px);
    auto* rows = new QFormLayout(this);
    rows->addRow(new QLabel(
        photographs_.size() == 1 ? tr("Of one photograph") : tr("Of %1 photographs").arg(photographs_.size()), this));
    for (QLineEdit* field : {photographer_, licence_}) {
        field->setMinimumHeight(target_px);
        field->setPlaceholderText(tr("as it stands"));
    }
    rows->addRow(tr("&Photographer"), photographer_);
    rows->addRow(tr("&Licence"), licence_);
    fault_->setWordWrap(true);
    fault_->setProperty("role", "closed");
    fault_->hide();
    rows->addRow(fault_);
    auto* buttons = new QDialogButtonBox(QDialogButtonBox::Save | QDialogButtonBox::Cancel, this);
    connect(buttons, &QDialogButtonBox::accepted, this, &RightsDialog::accept);
    connect(buttons, &QDialogButtonBox::rejected, this, &RightsDialog::reject);
    rows->addRow(buttons);
    show_what_all_say(snapshot);
}

void RightsDialog::show_what_all_say(const casebook::CaseSnapshot& snapshot) {
    photographer_->setText(common(snapshot, photographs_,
                                  [&](const casebook::Record& photograph) { return author_of(snapshot, photograph); }));
    licence_->setText(common(snapshot, photographs_, [](const casebook::Record& photograph) {
        return shown(photograph.body.text_or("licence"));
    }));
}

void RightsDialog::accept() {
    usecases::SaidOfPhotographs said;
    said.photographer = plain(photographer_->text().trimmed());
    said.licence = plain(licence_->text().trimmed());
    const auto done = usecases::say_photographs(session_.acting(), photographs_, said);
    if (!done) {
        fault_->setText(shown(done.error().message + " " + done.error().next));
        fault_->show();
        return;
    }
    session_.did(*done, tr("photographer and licence"));
    QDialog::accept();
}

}  // namespace tedge::desk
