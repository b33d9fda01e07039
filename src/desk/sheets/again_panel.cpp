#include "sheets/again_panel.hpp"

#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>
#include <nlohmann/json.hpp>

#include "forms/entries/entry.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

constexpr std::size_t most_passages = 4;

}  // namespace

AgainPanel::AgainPanel(QWidget* parent) : QWidget(parent), column_(new QVBoxLayout(this)) {
    column_->setContentsMargins(0, 0, 0, 0);
}

void AgainPanel::show_case(const casebook::CaseSnapshot& snapshot) {
    while (QLayoutItem* old = column_->takeAt(0)) {
        delete old->widget();
        delete old;
    }
    auto last = usecases::last_trials(snapshot);
    if (last.size() > most_passages) last.resize(most_passages);
    for (const casebook::Record* trial : last) add_passage(usecases::next_trial(snapshot, *trial), *trial);
    setVisible(!last.empty());
}

void AgainPanel::add_passage(const usecases::NextTrial& next, const casebook::Record& last) {
    const QString passage = shown(last.body.text_or("passage"));
    const bool has_agent = next.values.set_values().contains("agent");
    auto* button = new QPushButton(tr("Again: %1").arg(passage), this);
    button->setMinimumHeight(target_px);
    connect(button, &QPushButton::clicked, this, [this, id = last.id] { emit wanted(id); });
    column_->addWidget(button);
    auto* why = new QLabel(shown(next.why), this);
    why->setWordWrap(true);
    why->setProperty("role", has_agent ? "faded" : "warning");
    column_->addWidget(why);
}

}  // namespace tedge::desk
