#include "accounts/refusal.hpp"

#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>

#include "forms/entries/entry.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

Refusal::Refusal(QWidget* parent)
    : QWidget(parent), said_(new QLabel(this)), open_(new QPushButton(tr("Open that picture"), this)) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    said_->setWordWrap(true);
    said_->setTextInteractionFlags(Qt::TextSelectableByMouse);
    open_->setMinimumHeight(target_px);
    open_->setAutoDefault(false);
    column->addWidget(said_);
    column->addWidget(open_, 0, Qt::AlignLeft);
    connect(open_, &QPushButton::clicked, this, [this] {
        if (case_) emit case_wanted(*case_);
    });
    hide();
}

void Refusal::show_error(const Error& error) {
    say_in(*said_, QStringLiteral("⊘ ") + shown(error.message + " " + error.next), "closed");
    case_.reset();
    const auto named = error.values.find("case");
    const auto id = named != error.values.end() ? parse_uuid(named->second) : parse_uuid("");
    if (id) case_ = *id;
    open_->setVisible(case_.has_value());
    show();
}

}  // namespace tedge::desk
