#include "saleday/sale_day_panel.hpp"

#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>
#include <algorithm>

#include "forms/flow_layout.hpp"
#include "saleday/sale_dialog.hpp"
#include "saleday/sale_words.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

constexpr std::size_t due_on_panel = 3;

const casebook::Record* newest_lot(const casebook::CaseSnapshot& snapshot) {
    const auto lots = snapshot.of_kind("lot");
    return lots.empty() ? nullptr : lots.back();
}

}  // namespace

SaleDayPanel::SaleDayPanel(BookSession& session, QWidget* parent)
    : QWidget(parent), session_(session), result_(new QLabel(this)), risk_(new QLabel(this)), next_(new QLabel(this)) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    for (QLabel* label : {result_, risk_, next_}) {
        label->setWordWrap(true);
        label->setTextInteractionFlags(Qt::TextSelectableByMouse);
        column->addWidget(label);
    }
    auto* acts = new FlowLayout;
    for (const SaleAct act : {SaleAct::terms, SaleAct::cards, SaleAct::result, SaleAct::invoice, SaleAct::deadlines}) {
        auto* made = new QPushButton(this);
        connect(made, &QPushButton::clicked, this, [this, act] { emit wanted(act); });
        acts->addWidget(made);
        acts_.emplace_back(act, made);
    }
    column->addLayout(acts);
    connect(&session_, &BookSession::client_looks_changed, this, [this](bool looks) { setVisible(!looks); });
}

void SaleDayPanel::show_case(const casebook::CaseSnapshot& snapshot) {
    show_result(snapshot);
    show_risk(snapshot);
    show_next(snapshot);
    show_acts(snapshot);
    setVisible(!session_.client_looks());
}

void SaleDayPanel::show_result(const casebook::CaseSnapshot& snapshot) {
    const casebook::Record* lot = newest_lot(snapshot);
    const std::string result = lot != nullptr ? lot->body.text_or("result") : std::string();
    result_->setVisible(!result.empty());
    if (result.empty()) return;
    const auto hammer = lot->body.money("hammer");
    const QString came_to = capital(result_words(result)) +
                            (hammer ? tr(", hammer %1.").arg(shown(to_display_text(*hammer))) : QStringLiteral("."));
    QStringList said{came_to};
    QStringList all{came_to};
    const auto found = usecases::post_mortem(snapshot);
    if (found) {
        said = {shown(found->said.front())};
        if (found->at_price) said << shown(found->said.back());
        for (const std::string& each : found->said) all << shown(each);
    }
    result_->setToolTip(all.join(u'\n'));
    const bool is_above = found && result == "bought" && found->above_limit.minor > 0;
    say_in(*result_, (is_above ? QStringLiteral("△ ") : QString()) + said.join(u' '),
           is_above             ? "warning"
           : result == "bought" ? "done"
                                : "plain");
}

void SaleDayPanel::show_risk(const casebook::CaseSnapshot& snapshot) {
    const auto risk = usecases::risk_standing(snapshot);
    risk_->setVisible(risk.has_value());
    if (!risk) return;
    const RiskWords words = risk_words(snapshot, *risk);
    say_in(*risk_, (words.is_covered ? QString() : QStringLiteral("△ ")) + words.said,
           words.is_covered ? "plain" : "warning");
}

void SaleDayPanel::show_next(const casebook::CaseSnapshot& snapshot) {
    auto open = usecases::standing_deadlines(snapshot, day_of_desk(session_));
    std::erase_if(open, [](const auto& each) { return each.done_on.has_value(); });
    next_->setVisible(!open.empty());
    QStringList said;
    for (std::size_t i = 0; i < std::min(open.size(), due_on_panel); ++i) {
        const bool is_late = open[i].is_past() && !open[i].is_sale;
        said << QStringLiteral("<span style=\"color:%1\">%2</span>")
                    .arg((is_late ? theme().warning : theme().ink).name(),
                         tr("%1: %2, %3")
                             .arg(when_words(open[i]), shown(open[i].what), standing_words(open[i]))
                             .toHtmlEscaped());
    }
    if (open.size() > due_on_panel) said << tr("and %1 more").arg(open.size() - due_on_panel);
    next_->setText(said.join(QStringLiteral("<br>")));
}

void SaleDayPanel::show_acts(const casebook::CaseSnapshot& snapshot) {
    const casebook::Record* lot = newest_lot(snapshot);
    const bool is_bought = !snapshot.of_kind("purchase").empty();
    for (const auto& [act, button] : acts_) {
        button->setText(sale_act_text(act, snapshot));
        const bool is_before = act == SaleAct::terms || act == SaleAct::cards;
        const bool needs_lot = act == SaleAct::result || act == SaleAct::deadlines;
        button->setVisible(!(is_before && is_bought) && (!needs_lot || lot != nullptr) &&
                           (act != SaleAct::invoice || is_bought));
    }
}

}  // namespace tedge::desk
