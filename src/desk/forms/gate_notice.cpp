#include "forms/gate_notice.hpp"

#include <QLabel>
#include <QPushButton>
#include <QStyle>
#include <QVBoxLayout>
#include <algorithm>

#include "forms/entries/entry.hpp"
#include "forms/flow_layout.hpp"
#include "text.hpp"

namespace tedge::desk {

using casebook::GateAnswer;
using casebook::Requirement;

std::optional<usecases::Stage> stage_named(std::string_view sheet) {
    const auto found = std::ranges::find_if(usecases::all_stages,
                                            [&](usecases::Stage stage) { return usecases::to_text(stage) == sheet; });
    return found != usecases::all_stages.end() ? std::optional(*found) : std::nullopt;
}

GateNotice::GateNotice(QWidget* parent)
    : QWidget(parent),
      sentence_(new QLabel(this)),
      go_(new QPushButton(tr("Go there"), this)),
      override_(new QPushButton(this)) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(4);
    sentence_->setWordWrap(true);
    sentence_->setTextInteractionFlags(Qt::TextSelectableByMouse);
    column->addWidget(sentence_);
    auto* buttons = new QWidget(this);
    auto* row = new FlowLayout(buttons);
    override_->setText(tr("Pass it by name and reason …"));
    for (QPushButton* button : {go_, override_}) {
        button->setMinimumHeight(target_px);
        row->addWidget(button);
        button->hide();
    }
    column->addWidget(buttons);
    connect(go_, &QPushButton::clicked, this, [this] {
        if (leads_to_) emit sheet_wanted(*leads_to_);
    });
    connect(override_, &QPushButton::clicked, this, &GateNotice::override_wanted);
    hide();
}

void GateNotice::clear() {
    closing_.clear();
    leads_to_.reset();
    hide();
}

void GateNotice::say(const char* role, const QString& text) {
    sentence_->setProperty("role", role);
    sentence_->style()->unpolish(sentence_);
    sentence_->style()->polish(sentence_);
    sentence_->setText(text);
    show();
}

void GateNotice::offer_sheet(const Requirement& first) {
    leads_to_ = stage_named(first.sheet);
    if (leads_to_ == own_) leads_to_.reset();
    go_->setVisible(leads_to_.has_value());
    go_->setText(tr("Go to: %1").arg(shown(first.sheet)));
}

void GateNotice::show_answers(const std::vector<GateAnswer>& answers, Said said) {
    clear();
    std::vector<InTheWay> warning;
    for (const GateAnswer& answer : answers) {
        for (const Requirement& requirement : answer.missing) {
            if (requirement.overridden_by) continue;
            (requirement.closes ? closing_ : warning).push_back({answer.gate, requirement});
        }
    }
    const auto& told = closing_.empty() ? warning : closing_;
    if (told.empty()) return;
    const Requirement& first = told.front().requirement;
    QString text = (closing_.empty() ? QStringLiteral("△ ") : QStringLiteral("⊘ ")) + shown(first.message) +
                   QLatin1Char(' ') + shown(first.opened_by);
    if (told.size() > 1) text += QLatin1Char(' ') + tr("%n more.", nullptr, static_cast<int>(told.size()) - 1);
    QStringList all;
    for (const InTheWay& each : told) all << shown(each.requirement.message + " " + each.requirement.opened_by);
    sentence_->setToolTip(all.join(QLatin1Char('\n')));
    say(closing_.empty() ? "warning" : "closed", text);
    offer_sheet(first);
    const bool can_pass = std::ranges::none_of(closing_, [](const InTheWay& each) { return each.requirement.law; });
    override_->setVisible(said == Said::when_refused && !closing_.empty() && can_pass);
}

void GateNotice::show_error(const Error& error) {
    clear();
    go_->hide();
    override_->hide();
    sentence_->setToolTip({});
    say("closed", QStringLiteral("⊘ ") + shown(error.message + " " + error.next));
}

}  // namespace tedge::desk
