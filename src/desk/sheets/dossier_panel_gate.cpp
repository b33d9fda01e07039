// What stands in the way of a dossier, where it is opened, and who may let it pass.
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>
#include <algorithm>

#include "sheets/dossier_panel.hpp"
#include "sheets/kinds_of.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

using casebook::Reader;
using casebook::Requirement;

constexpr int leaving_gate = 22;

// Where such a record can be opened; people stand on no sheet.
bool has_sheet(std::string_view kind) {
    return std::ranges::any_of(usecases::all_stages, [&](usecases::Stage stage) {
        const auto kinds = kinds_of(stage);
        return std::ranges::find(kinds, kind) != kinds.end();
    });
}

void empty(QVBoxLayout& column) {
    while (QLayoutItem* old = column.takeAt(0)) {
        delete old->widget();
        delete old;
    }
}

}  // namespace

void DossierPanel::ask_gate() {
    if (asking_.running()) return ask_soon_.start();
    asked_ = true;
    const Reader asked_for = reader();
    const Uuid case_id = case_id_;
    asking_.begin([this, how = session_.how(), case_id, asked_for](const Progress& /*progress*/) {
        const auto missing = missing_before(how, case_id, asked_for);
        asking_.tell([this, missing, case_id, asked_for] {
            if (missing && case_id == case_id_ && asked_for == reader()) show_missing(*missing);
        });
    });
}

void DossierPanel::show_missing(const std::vector<InTheWay>& missing) {
    empty(*missing_);
    closing_.clear();
    for (const InTheWay& each : missing) {
        if (each.requirement.closes) closing_.push_back(each);
    }
    // What a gate finds can name what a client must not see.
    if (session_.client_looks()) return;
    for (const InTheWay& each : closing_) show_requirement(each.requirement);
    show_way_past();
    for (const InTheWay& each : missing) {
        if (!each.requirement.closes) show_requirement(each.requirement);
    }
    tell_refusal_once();
}

void DossierPanel::show_requirement(const Requirement& requirement) {
    const QString mark = requirement.closes ? QStringLiteral("⊘ ") : QStringLiteral("△ ");
    auto* label = new QLabel(mark + shown(requirement.message + " " + requirement.opened_by), this);
    label->setProperty("role", requirement.closes ? "closed" : "warning");
    label->setWordWrap(true);
    missing_->addWidget(label);
    const auto leak = casebook::field_of_leaving_code(requirement.code);
    if (leak && requirement.record && has_sheet(leak->kind)) {
        const casebook::Kind* kind = casebook::find_kind(leak->kind);
        add_way(tr("Look at the %1").arg(shown(kind->label)),
                [this, record = *requirement.record] { emit record_wanted(record); });
    }
    const auto stage = stage_named(requirement.sheet);
    if (!stage || *stage == usecases::Stage::dossier) return;
    add_way(tr("Open the sheet %1").arg(shown(requirement.sheet)),
            [this, stage = *stage] { emit sheet_wanted(stage); });
}

void DossierPanel::add_way(const QString& text, const std::function<void()>& act) {
    auto* button = new QPushButton(text, this);
    connect(button, &QPushButton::clicked, this, act);
    missing_->addWidget(button);
}

void DossierPanel::show_way_past() {
    if (closing_.empty() || session_.book().read_only()) return;
    const bool by_law = std::ranges::any_of(closing_, [](const InTheWay& each) { return each.requirement.law; });
    if (by_law) {
        auto* label = new QLabel(tr("The law asks for this: nobody can let it pass, a document opens it."), this);
        label->setWordWrap(true);
        missing_->addWidget(label);
        return;
    }
    add_way(tr("Let it pass, by name and &reason …"), [this] { ask_for_override(); });
}

// What only the finished files showed: the gate tells of it as of what it found itself.
void DossierPanel::show_leak(const Error& error) {
    const auto value = [&](const char* name) {
        const auto found = error.values.find(name);
        return found != error.values.end() ? found->second : std::string();
    };
    Requirement requirement;
    requirement.code = casebook::leaving_code({value("kind"), value("field")});
    requirement.message = error.message;
    requirement.opened_by = error.next;
    requirement.closes = true;
    if (const auto record = parse_uuid(value("record"))) requirement.record = *record;
    std::vector<InTheWay> missing = let_pass_;
    missing.push_back({leaving_gate, requirement});
    show_missing(missing);
}

// Said once, above, with what can be done about it: also where the gate answers later than a quick hand was refused.
void DossierPanel::tell_refusal_once() {
    const bool is_told_above = std::ranges::any_of(
        closing_, [&](const InTheWay& each) { return refused_.find(each.requirement.message) != std::string::npos; });
    if (is_told_above) say(tr("⊘ No pages were made: what is named above closes the gate."), "closed");
}

}  // namespace tedge::desk
