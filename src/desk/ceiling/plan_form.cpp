#include "ceiling/plan_form.hpp"

#include <QComboBox>
#include <QEvent>
#include <QFormLayout>
#include <QLabel>
#include <QLineEdit>
#include <QToolButton>
#include <QVBoxLayout>

#include "ceiling/plan_rows.hpp"
#include "ceiling/typed_plan.hpp"
#include "forms/band_text.hpp"
#include "forms/entries/amount_entry.hpp"
#include "forms/entries/list_entry.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

using nlohmann::json;

// Narrower, and labels stand above their lines.
constexpr int narrow_form_px = 340;
constexpr int least_form_line_px = 60;

struct WayOfSelling {
    const char* word;  // of the plan
    const char* label;
};
constexpr std::array ways_of_selling{WayOfSelling{"margin-scheme", QT_TR_NOOP("under the margin scheme")},
                                     WayOfSelling{"ordinary", QT_TR_NOOP("with ordinary VAT")},
                                     WayOfSelling{"export", QT_TR_NOOP("exported")},
                                     WayOfSelling{"none", QT_TR_NOOP("without VAT")}};

std::vector<PlanColumn> outcome_columns() {
    return {{"name", QObject::tr("It may be"), QObject::tr("by the master, studio, no name …"), PlanValue::words, true},
            {"probability", QObject::tr("chance (%)"), QObject::tr("%"), PlanValue::share, true},
            {"price", QObject::tr("sells for"), QObject::tr("low – likely – high"), PlanValue::estimate},
            {"months", QObject::tr("months"), QObject::tr("3 – 8 – 24"), PlanValue::estimate},
            {"unsold", QObject::tr("unsold (%)"), QObject::tr("%"), PlanValue::share}};
}

std::vector<PlanColumn> condition_columns() {
    return {
        {"name", QObject::tr("Under the dirt"), QObject::tr("sound, skinned, overpainted …"), PlanValue::words, true},
        {"probability", QObject::tr("chance of it (%)"), QObject::tr("%"), PlanValue::share, true},
        {"price_factor", QObject::tr("price, % of sound"), QObject::tr("40 – 55 – 70"), PlanValue::shares},
        {"cost_factor", QObject::tr("costs, %"), QObject::tr("120 – 150 – 220"), PlanValue::shares}};
}

QLabel* told(const QString& text, QWidget* parent) {
    auto* label = new QLabel(text, parent);
    label->setWordWrap(true);
    label->setProperty("role", "faded");
    return label;
}

void put(json& object, const char* field, const json& value, bool is_said) {
    if (is_said)
        object[field] = value;
    else
        object.erase(field);
}

}  // namespace

PlanForm::PlanForm(QWidget* parent) : QWidget(parent) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    terms_ = told({}, this);
    terms_->hide();
    column->addWidget(terms_);
    sale_ = add_group(column, {}, false);
    currency_ = currency_list(this, QStringLiteral("GBP"), this);
    currency_->setAccessibleName(tr("Currency of the plan"));
    currency_->lineEdit()->setAccessibleName(tr("Currency of the plan"));
    connect(currency_, &QComboBox::editTextChanged, this, &PlanForm::tell);
    sale_->addRow(tr("Amounts in"), currency_);
    add_line(sale_, "premium", tr("Premium (%)"), QStringLiteral("25"));
    add_line(sale_, "vat", tr("VAT on it (%)"), QStringLiteral("20"));

    outcomes_ = new PlanRows(outcome_columns(), tr("It may also be …"), this);
    conditions_ = new PlanRows(condition_columns(), tr("Its condition may be …"), this);
    column->addWidget(outcomes_);
    column->addWidget(conditions_);
    for (PlanRows* rows : {outcomes_, conditions_}) connect(rows, &PlanRows::edited, this, &PlanForm::tell);

    QFormLayout* wanted = add_group(column, {}, false);
    add_line(wanted, "profit", tr("Profit wanted"), {});
    add_line(wanted, "loss", tr("Chance of loss accepted (%)"), QStringLiteral("20"));
    add_line(wanted, "cash", tr("Cash there is"), {});
    found_ = add_group(column, {}, false);
    add_line(found_, "as_found", tr("Sold as found it brings"), {}, tr("low – likely – high"));
    add_line(found_, "as_it_stands", tr("Sold as it stands it brings"), {}, tr("low – likely – high"));

    QFormLayout* selling = add_group(column, tr("How it is sold"), true);
    selling_ = calm_list(this, this);
    for (const WayOfSelling& way : ways_of_selling) selling_->addItem(tr(way.label), QString::fromLatin1(way.word));
    selling_->setAccessibleName(tr("Sold"));
    connect(selling_, &QComboBox::currentIndexChanged, this, &PlanForm::tell);
    selling->addRow(tr("Sold"), selling_);
    add_line(selling, "vat_percent", tr("VAT then (%)"), QStringLiteral("20"));
    add_line(selling, "commission", tr("Commission on selling (%)"), {});
    add_line(selling, "recovers", tr("Unsold, it still brings (%)"), {}, QStringLiteral("50"));
    add_line(selling, "finance", tr("Interest (% a year)"), {});

    QFormLayout* bidders = add_group(column, tr("Bidding against others"), true);
    bidders->addRow(
        told(tr("Whoever bids most has often guessed too high. With so many serious bidders, us among them, "
                "and guesses that may be so far off, every price above is lowered a little."),
             this));
    add_line(bidders, "serious", tr("Serious bidders"), {});
    add_line(bidders, "error", tr("Guesses may be off by (± %)"), {});
    show_bought(false);
    fill(json::object());
}

QFormLayout* PlanForm::add_group(QVBoxLayout* column, const QString& title, bool is_folded) {
    auto* group = new QWidget(this);
    auto* form = new QFormLayout(group);
    form->setContentsMargins(0, 0, 0, 0);
    form->setFieldGrowthPolicy(QFormLayout::AllNonFixedFieldsGrow);
    forms_.push_back(form);
    if (!title.isEmpty()) {
        auto* fold = new QToolButton(this);
        fold->setText(title);
        fold->setCheckable(true);
        fold->setChecked(!is_folded);
        fold->setToolButtonStyle(Qt::ToolButtonTextBesideIcon);
        const auto show = [fold, group](bool is_open) {
            fold->setArrowType(is_open ? Qt::DownArrow : Qt::RightArrow);
            group->setVisible(is_open);
        };
        connect(fold, &QToolButton::toggled, group, show);
        show(!is_folded);
        column->addWidget(fold);
    }
    column->addWidget(group);
    return form;
}

void PlanForm::add_line(QFormLayout* form, const char* name, const QString& label, const QString& value,
                        const QString& hint) {
    auto* line = new QLineEdit(value, this);
    line->setAccessibleName(label);
    line->setMinimumWidth(least_form_line_px);
    line->setPlaceholderText(hint);
    connect(line, &QLineEdit::textChanged, this, &PlanForm::tell);
    form->addRow(label, line);
    lines_[name] = line;
}

QString PlanForm::typed(const char* name) const {
    return lines_.at(name)->text().trimmed();
}

void PlanForm::tell() {
    if (!is_filling_) emit edited();
}

void PlanForm::show_currency(const QString& code) {
    is_filling_ = true;
    currency_->setEditText(code);
    is_filling_ = false;
}

void PlanForm::show_plan(const json& plan) {
    is_filling_ = true;
    fill(plan);
    is_filling_ = false;
}

void PlanForm::fill(const json& plan) {
    const json sale = plan.value("sale", json::object());
    const json target = plan.value("target", json::object());
    const json bidders = plan.value("bidders", json::object());
    const json premium = sale.value("premium", json());
    const bool is_flat = premium.is_array() && premium.size() == 1 && premium[0].is_object();
    if (is_flat) lines_.at("premium")->setText(amount_text(premium[0].value("percent", json())));
    if (sale.contains("vat_on_premium_percent")) lines_.at("vat")->setText(amount_text(sale["vat_on_premium_percent"]));
    outcomes_->show_rows(plan.value("outcomes", json::array()));
    if (outcomes_->count() == 0) {
        outcomes_->add_row({{"name", plain(tr("by the master"))}});
        outcomes_->add_row({{"name", plain(tr("no name"))}});
    }
    conditions_->show_rows(plan.value("conditions", json::array()));
    lines_.at("profit")->setText(amount_text(target.value("profit", json())));
    if (!target.empty()) lines_.at("loss")->setText(share_text(target.value("loss_probability", json())));
    lines_.at("cash")->setText(amount_text(target.value("cash", json())));
    for (const char* field : {"as_found", "as_it_stands"})
        lines_.at(field)->setText(estimate_text(plan.value(field, json::object()).value("price", json())));
    const int way = selling_->findData(shown(plan.value("selling", std::string("margin-scheme"))));
    selling_->setCurrentIndex(std::max(0, way));
    lines_.at("vat_percent")->setText(plan.contains("vat_percent") ? amount_text(plan["vat_percent"]) : tr("20"));
    lines_.at("commission")->setText(amount_text(plan.value("selling_commission_percent", json())));
    lines_.at("recovers")->setText(share_text(plan.value("unsold_recovers", json())));
    lines_.at("finance")->setText(amount_text(plan.value("finance_percent_a_year", json())));
    lines_.at("serious")->setText(amount_text(bidders.value("serious", json())));
    lines_.at("error")->setText(share_text(bidders.value("signal_error", json())));
}

void PlanForm::show_terms(const json& terms) {
    sale_->setRowVisible(lines_.at("premium"), !terms.contains("premium"));
    sale_->setRowVisible(lines_.at("vat"), !terms.contains("vat_on_premium_percent"));
    terms_->setVisible(!terms.empty());
    if (terms.empty()) return;
    terms_->setText(terms.contains("premium")
                        ? tr("Terms as recorded with the lot: premium %1, and what else stands there.")
                              .arg(bands_in_words(terms["premium"]))
                        : tr("Terms as recorded with the lot; the premium is not among them."));
}

void PlanForm::show_bought(bool is_bought) {
    found_->setRowVisible(lines_.at("as_it_stands"), is_bought);
}

Expected<Currency> PlanForm::currency() const {
    return Currency::parse(plain(currency_->currentText().toUpper()));
}

bool PlanForm::says_prices() const {
    const json outcomes = outcomes_->rows();
    return std::ranges::any_of(outcomes, [](const json& each) { return each.contains("price"); });
}

void PlanForm::write_sale(json& plan) const {
    json& sale = plan["sale"];
    if (!sale.is_object()) sale = json::object();
    if (sale_->isRowVisible(lines_.at("premium")))
        sale["premium"] = json::array({{{"percent", amount_typed(typed("premium"))}}});
    if (sale_->isRowVisible(lines_.at("vat"))) sale["vat_on_premium_percent"] = amount_typed(typed("vat"));
}

void PlanForm::write_wanted(json& plan) const {
    json target = json::object();
    if (!typed("profit").isEmpty()) target["profit"] = amount_typed(typed("profit"));
    if (!typed("loss").isEmpty()) target["loss_probability"] = share_typed(typed("loss"));
    if (!typed("cash").isEmpty()) target["cash"] = amount_typed(typed("cash"));
    plan["target"] = std::move(target);
    for (const char* field : {"as_found", "as_it_stands"}) {
        json sold = plan.value(field, json::object());
        sold["price"] = estimate_typed(typed(field));
        put(plan, field, sold, !typed(field).isEmpty() && found_->isRowVisible(lines_.at(field)));
    }
}

void PlanForm::write_selling(json& plan) const {
    plan["selling"] = plain(selling_->currentData().toString());
    put(plan, "vat_percent", amount_typed(typed("vat_percent")), !typed("vat_percent").isEmpty());
    put(plan, "selling_commission_percent", amount_typed(typed("commission")), !typed("commission").isEmpty());
    put(plan, "unsold_recovers", share_typed(typed("recovers")), !typed("recovers").isEmpty());
    put(plan, "finance_percent_a_year", amount_typed(typed("finance")), !typed("finance").isEmpty());
    json bidders = json::object();
    if (!typed("serious").isEmpty()) bidders["serious"] = amount_typed(typed("serious"));
    if (!typed("error").isEmpty()) bidders["signal_error"] = share_typed(typed("error"));
    put(plan, "bidders", bidders, !bidders.empty());
}

json PlanForm::written_into(json plan) const {
    write_sale(plan);
    plan["outcomes"] = outcomes_->rows();
    const json conditions = conditions_->rows();
    put(plan, "conditions", conditions, !conditions.empty());
    write_wanted(plan);
    write_selling(plan);
    return plan;
}

void PlanForm::resizeEvent(QResizeEvent* event) {
    QWidget::resizeEvent(event);
    const auto wanted = width() < narrow_form_px ? QFormLayout::WrapAllRows : QFormLayout::WrapLongRows;
    for (QFormLayout* form : forms_) {
        if (form->rowWrapPolicy() != wanted) form->setRowWrapPolicy(wanted);
    }
}

bool PlanForm::eventFilter(QObject* watched, QEvent* event) {
    if (!is_idle_wheel(watched, event)) return QWidget::eventFilter(watched, event);
    event->ignore();
    return true;
}

}  // namespace tedge::desk
