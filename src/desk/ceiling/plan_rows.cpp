#include "ceiling/plan_rows.hpp"

#include <QGridLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QVBoxLayout>
#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "ceiling/typed_plan.hpp"
#include "tedge/base/number_text.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

using nlohmann::json;

json typed_value(PlanValue value, const QString& typed) {
    switch (value) {
        case PlanValue::share:
            return share_typed(typed);
        case PlanValue::shares:
            return shares_typed(typed);
        case PlanValue::estimate:
            return estimate_typed(typed);
        case PlanValue::words:
            break;
    }
    return plain(typed.trimmed());
}

QString value_text(PlanValue value, const json& of) {
    switch (value) {
        case PlanValue::share:
            return share_text(of);
        case PlanValue::shares:
            return shares_text(of);
        case PlanValue::estimate:
            return estimate_text(of);
        case PlanValue::words:
            break;
    }
    return of.is_string() ? shown(of.get<std::string>()) : QString();
}

constexpr int share_width_px = 74;
constexpr int least_line_px = 44;

}  // namespace

PlanRows::PlanRows(std::vector<PlanColumn> columns, const QString& one_more, QWidget* parent)
    : QWidget(parent),
      columns_(std::move(columns)),
      column_(new QVBoxLayout(this)),
      more_(new QPushButton(one_more, this)) {
    column_->setContentsMargins(0, 0, 0, 0);
    column_->addWidget(more_, 0, Qt::AlignLeft);
    connect(more_, &QPushButton::clicked, this, [this] {
        add_row(json::object());
        made_.back().lines.front()->setFocus();
        changed();
    });
}

std::size_t PlanRows::column_of(std::string_view field) const {
    const auto found = std::ranges::find_if(columns_, [&](const PlanColumn& each) { return each.field == field; });
    return static_cast<std::size_t>(found - columns_.begin());
}

QLineEdit* PlanRows::add_line(const PlanColumn& column, const json& row, QWidget* parent) {
    const json value = row.value(column.field, json());
    auto* line = new QLineEdit(value_text(column.value, value), parent);
    line->setCursorPosition(0);  // should it be cut, then at its end: 5000 left of 15000 would mislead
    line->setPlaceholderText(column.hint);
    line->setToolTip(column.label);
    line->setMinimumWidth(least_line_px);
    if (column.value == PlanValue::share) line->setMaximumWidth(share_width_px);
    connect(line, &QLineEdit::textChanged, this, &PlanRows::changed);
    return line;
}

void PlanRows::add_row(const json& row) {
    auto* widget = new QWidget(this);
    auto* grid = new QGridLayout(widget);
    grid->setContentsMargins(0, 0, 0, 6);
    grid->setHorizontalSpacing(6);
    Row made{widget, {}, new QPushButton(QStringLiteral("×"), widget)};
    made.away->setFixedWidth(34);
    const std::size_t beside =
        static_cast<std::size_t>(std::ranges::count_if(columns_, [](const auto& each) { return each.is_first_line; }));
    const std::size_t below = columns_.size() - beside;
    for (std::size_t i = 0; i < columns_.size(); ++i) {
        QLineEdit* line = add_line(columns_[i], row, widget);
        made.lines.push_back(line);
        if (i < beside) {
            grid->addWidget(line, 0, i == 0 ? 0 : 2, 1, i == 0 ? 2 : 1);  // the name is the longest
            continue;
        }
        // What a figure means is said above it: hints go as soon as something is typed.
        const int at = static_cast<int>(i - beside);
        const int wide = i + 1 < columns_.size() ? 1 : 4 - static_cast<int>(below) + 1;
        auto* label = new QLabel(columns_[i].label, widget);
        label->setProperty("role", "faded");
        label->setBuddy(line);
        grid->addWidget(label, 1, at, 1, wide);
        grid->addWidget(line, 2, at, 1, wide);
    }
    grid->addWidget(made.away, 0, 3);
    grid->setColumnStretch(0, 5);
    grid->setColumnStretch(1, 2);
    connect(made.away, &QPushButton::clicked, this, [this, widget] { take_away(widget); });
    column_->insertWidget(static_cast<int>(made_.size()), widget);
    made_.push_back(std::move(made));
    name_lines(made_.back(), made_.size());
    tell_what_is_left();
}

// For whoever hears the window instead of seeing it: which of the rows a line belongs to.
void PlanRows::name_lines(Row& row, std::size_t number) const {
    for (std::size_t i = 0; i < columns_.size(); ++i)
        row.lines[i]->setAccessibleName(tr("%1, %2").arg(columns_[i].label).arg(number));
    const QString name = row.lines.front()->text();
    row.away->setAccessibleName(name.isEmpty() ? tr("Take away row %1").arg(number) : tr("Take away “%1”").arg(name));
    row.away->setToolTip(row.away->accessibleName());
}

void PlanRows::take_away(QWidget* row) {
    const auto found = std::ranges::find(made_, row, &Row::widget);
    if (found == made_.end()) return;
    made_.erase(found);
    row->hide();
    row->setParent(nullptr);
    row->deleteLater();  // its own button asked for it
    more_->setFocus();
    changed();
}

void PlanRows::show_rows(const json& rows) {
    is_filling_ = true;
    for (const Row& row : made_) delete row.widget;
    made_.clear();
    if (rows.is_array()) {
        for (const json& row : rows) {
            if (row.is_object()) add_row(row);
        }
    }
    is_filling_ = false;
}

json PlanRows::rows() const {
    json out = json::array();
    std::size_t open = 0;
    double said = 0.0;
    for (const Row& row : made_) {
        json made = json::object();
        for (std::size_t i = 0; i < columns_.size(); ++i) {
            if (!row.lines[i]->text().trimmed().isEmpty())
                made[columns_[i].field] = typed_value(columns_[i].value, row.lines[i]->text());
        }
        if (made.empty() || (made.size() == 1 && made.contains("name"))) continue;  // a name alone says nothing yet
        if (!made.contains("probability")) ++open;
        if (made.contains("probability") && made["probability"].is_number()) said += made["probability"].get<double>();
        out.push_back(std::move(made));
    }
    if (open != 1) return out;
    for (json& row : out) {
        if (!row.contains("probability")) row["probability"] = std::round(std::max(0.0, 1.0 - said) * 1e9) / 1e9;
    }
    return out;
}

void PlanRows::tell_what_is_left() {
    const std::size_t chance = column_of("probability");
    double said = 0.0;
    std::size_t open = 0;
    for (const Row& row : made_) {
        const json value = share_typed(row.lines[chance]->text());
        if (row.lines[chance]->text().trimmed().isEmpty()) ++open;
        if (value.is_number()) said += value.get<double>();
    }
    for (Row& row : made_) {
        const bool takes_it = open == 1 && row.lines[chance]->text().trimmed().isEmpty();
        row.lines[chance]->setPlaceholderText(
            takes_it ? tr("= %1 %").arg(shown(format_fixed(100 * std::max(0.0, 1.0 - said), 0)))
                     : columns_[chance].hint);
    }
}

void PlanRows::changed() {
    if (is_filling_) return;
    for (std::size_t i = 0; i < made_.size(); ++i) name_lines(made_[i], i + 1);
    tell_what_is_left();
    emit edited();
}

}  // namespace tedge::desk
