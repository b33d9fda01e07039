#include "forms/override_dialog.hpp"

#include <QDialogButtonBox>
#include <QLabel>
#include <QLineEdit>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QVBoxLayout>
#include <algorithm>

#include "forms/entries/entry.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

constexpr int width_px = 460;
constexpr int reason_height_px = 84;

QLabel* wrapped(const QString& text, const char* role, QWidget* parent) {
    auto* label = new QLabel(text, parent);
    label->setProperty("role", role);
    label->setWordWrap(true);
    return label;
}

// Gate 22 keeps from a reader what is not his; all others keep the order of the work.
QString title_for(const std::vector<InTheWay>& closing) {
    constexpr int leaving = 22;
    const bool is_leaving = std::ranges::any_of(closing, [](const InTheWay& each) { return each.gate == leaving; });
    return is_leaving ? QObject::tr("Not for this reader") : QObject::tr("Not in the order of the work");
}

}  // namespace

OverrideDialog::OverrideDialog(const std::vector<InTheWay>& closing, const QString& author, QWidget* parent)
    : QDialog(parent),
      closing_(closing),
      name_(new QLineEdit(author, this)),
      reason_(new QPlainTextEdit(this)),
      fault_(wrapped({}, "closed", this)) {
    setWindowTitle(tr("A gate is closed"));
    setMinimumWidth(width_px);
    auto* column = new QVBoxLayout(this);
    auto* title = new QLabel(title_for(closing_), this);
    title->setFont(heading_font());
    column->addWidget(title);
    for (const InTheWay& each : closing_)
        column->addWidget(wrapped(QStringLiteral("⊘ ") + shown(each.requirement.message), "closed", this));
    column->addWidget(
        wrapped(tr("Whoever passes this takes it upon himself. Name and reason stay in the record of the picture."),
                "plain", this));
    column->addWidget(new QLabel(tr("Who takes it upon himself *"), this));
    name_->setMinimumHeight(target_px);
    name_->setAccessibleName(tr("Who takes it upon himself"));
    column->addWidget(name_);
    column->addWidget(new QLabel(tr("Why *"), this));
    reason_->setTabChangesFocus(true);
    reason_->setFixedHeight(reason_height_px);
    reason_->setAccessibleName(tr("Why"));
    column->addWidget(reason_);
    fault_->hide();
    column->addWidget(fault_);
    auto* buttons = new QDialogButtonBox(this);
    auto* leave = buttons->addButton(tr("Leave it closed"), QDialogButtonBox::RejectRole);
    auto* pass = buttons->addButton(tr("Pass it, by name and reason"), QDialogButtonBox::AcceptRole);
    for (QPushButton* button : {leave, pass}) button->setMinimumHeight(target_px);
    leave->setDefault(true);
    connect(buttons, &QDialogButtonBox::accepted, this, &OverrideDialog::accept);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    column->addWidget(buttons);
    reason_->setFocus();
}

void OverrideDialog::accept() {
    if (name_->text().trimmed().isEmpty() || reason_->toPlainText().trimmed().isEmpty()) {
        fault_->setText(tr("⊘ An override needs a name and a reason."));
        fault_->show();
        return;
    }
    QDialog::accept();
}

std::vector<usecases::Override> OverrideDialog::overrides(const Uuid& case_id) const {
    std::vector<usecases::Override> wanted;
    for (const InTheWay& each : closing_) {
        wanted.push_back(
            {case_id, each.gate, each.requirement.code, plain(name_->text()), plain(reason_->toPlainText()), false});
    }
    return wanted;
}

}  // namespace tedge::desk
