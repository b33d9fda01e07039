#include "sheets/ceiling_panel.hpp"

#include <fmt/format.h>

#include <QComboBox>
#include <QEvent>
#include <QFormLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QRegularExpression>
#include <QStyle>
#include <QVBoxLayout>
#include <cmath>
#include <nlohmann/json.hpp>

#include "forms/band_text.hpp"
#include "forms/entries/amount_entry.hpp"
#include "forms/entries/list_entry.hpp"
#include "forms/figure_text.hpp"
#include "sheets/ceiling_costs.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/base/text.hpp"
#include "tedge/money/ceiling.hpp"
#include "tedge/usecases/usual_currency.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

using money::Ceiling;
using money::CeilingReport;
using money::parse_ceiling_plan;
using money::ProfitAtHammer;
using money::solve_ceiling;
using nlohmann::json;

// Narrower, and labels stand above their lines.
constexpr int narrow_px = 340;

json amount(const QString& typed) {
    return number_or_text(plain(ungrouped(typed)));
}

// "600 – 900 – 1,800" or one amount.
json estimate(const QString& typed) {
    static const QRegularExpression between(QStringLiteral("\\s*–\\s*|\\s+-\\s+|\\s+to\\s+"));
    const QStringList parts = typed.split(between);
    if (parts.size() == 1) return amount(typed);
    json list = json::array();
    for (const QString& part : parts) list.push_back(amount(part));
    return list;
}

// Percentages of a hundred become probabilities, exactly as text: "40" to 0.40.
json probability(const QString& percent) {
    const auto value = parse_number(plain(percent.trimmed()));
    return value ? json(*value / 100.0) : json(plain(percent));
}

const casebook::Record* newest_lot(const std::optional<casebook::CaseSnapshot>& snapshot) {
    const auto lots = snapshot ? snapshot->of_kind("lot") : std::vector<const casebook::Record*>();
    return lots.empty() ? nullptr : lots.back();
}

// As recorded with the newest lot; what is not recorded is taken from the panel's own lines.
json terms_of_lot(const std::optional<casebook::CaseSnapshot>& snapshot) {
    const casebook::Record* lot = newest_lot(snapshot);
    if (lot == nullptr || !lot->body.has("terms")) return json::object();
    json terms = lot->body.as_json().at("terms");
    if (!terms.is_object() || terms.empty()) return json::object();
    // A number typed into a form is kept as it counts; an amount of a currency without minor units has no decimals.
    for (auto& [name, value] : terms.items()) {
        if (value.is_number_float() && std::trunc(value.get<double>()) == value.get<double>())
            value = static_cast<std::int64_t>(value.get<double>());
    }
    // Fees and bands are amounts in the currency of the sale, which is that of its estimate.
    for (const char* field : {"estimate_low", "estimate_high", "hammer"}) {
        if (const auto amount = lot->body.money(field)) terms["currency"] = std::string(amount->currency.code());
    }
    return terms;
}

QString ceiling_text(const QString& name, const std::optional<Ceiling>& ceiling) {
    if (!ceiling) return {};
    return QObject::tr("%1: hammer up to %2, bid %3\n")
        .arg(name, shown(to_display_text(ceiling->hammer)), shown(to_display_text(ceiling->bid)));
}

QString report_text(const CeilingReport& report) {
    QString text = ceiling_text(QObject::tr("For the profit wanted"), report.target) +
                   ceiling_text(QObject::tr("For the risk accepted"), report.risk) +
                   ceiling_text(QObject::tr("For the cash there is"), report.cash);
    if (report.binding) text += QObject::tr("The %1 ceiling binds.\n").arg(shown(money::limit_name(*report.binding)));
    if (!report.at_bid) return text;
    const ProfitAtHammer& at = *report.at_bid;
    return text + QObject::tr("At %1: all-in %2, expected profit %3, chance of loss %4 %")
                      .arg(shown(to_display_text(at.hammer)), shown(to_display_text(at.all_in)),
                           shown(to_display_text(at.expected_profit)),
                           shown(format_fixed(100 * at.loss_probability, 0)));
}

}  // namespace

CeilingPanel::CeilingPanel(BookSession& session, QWidget* parent)
    : QWidget(parent),
      session_(session),
      report_(new QLabel(this)),
      fix_(new QPushButton(tr("&Fix this limit"), this)) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    form_ = new QFormLayout;
    QFormLayout* form = form_;
    form->setFieldGrowthPolicy(QFormLayout::AllNonFixedFieldsGrow);
    currency_ = currency_list(this, QStringLiteral("GBP"), this);
    currency_->setAccessibleName(tr("Currency of the plan"));
    currency_->lineEdit()->setAccessibleName(tr("Currency of the plan"));
    connect(currency_, &QComboBox::editTextChanged, this, &CeilingPanel::reckon);
    form->addRow(tr("Amounts in"), currency_);
    add_line(form, "premium", tr("Premium (%)"), QStringLiteral("25"));
    add_line(form, "vat", tr("VAT on it (%)"), QStringLiteral("20"));
    add_line(form, "name1", tr("It may be"), tr("by the master"));
    add_line(form, "chance1", tr("  chance (%)"), QString());
    add_line(form, "price1", tr("  sells for"), QString());
    add_line(form, "name2", tr("or"), tr("by a follower"));
    add_line(form, "chance2", tr("  chance (%)"), QString());
    add_line(form, "price2", tr("  sells for"), QString());
    add_line(form, "profit", tr("Profit wanted"), QString());
    add_line(form, "loss", tr("Chance of loss accepted (%)"), QStringLiteral("20"));
    add_line(form, "cash", tr("Cash there is"), QString());
    terms_ = new QLabel(this);
    terms_->setWordWrap(true);
    terms_->hide();
    column->addWidget(terms_);
    column->addLayout(form);
    report_->setWordWrap(true);
    column->addWidget(report_);
    fix_->setProperty("act", "main");
    fix_->setEnabled(false);
    column->addWidget(fix_);
    connect(fix_, &QPushButton::clicked, this, &CeilingPanel::fix);
    connect(&session_, &BookSession::client_looks_changed, this, [this](bool looks) { setVisible(!looks); });
}

void CeilingPanel::add_line(QFormLayout* form, const char* name, const QString& label, const QString& value) {
    auto* line = new QLineEdit(value, this);
    line->setAccessibleName(label.trimmed());
    if (QString::fromLatin1(name).startsWith(QStringLiteral("price")))
        line->setPlaceholderText(tr("low – likely – high"));
    connect(line, &QLineEdit::textChanged, this, &CeilingPanel::reckon);
    form->addRow(label, line);
    lines_[name] = line;
}

void CeilingPanel::show_case(const casebook::CaseSnapshot& snapshot) {
    const bool other_case = !snapshot_ || snapshot_->picture.id != snapshot.picture.id;
    snapshot_ = snapshot;
    if (other_case)
        currency_->setEditText(shown(usecases::usual_currency(session_.book(), snapshot.picture.id).code()));
    setVisible(!session_.client_looks());
    show_terms();
    reckon();
}

void CeilingPanel::show_terms() {
    const json terms = terms_of_lot(snapshot_);
    form_->setRowVisible(lines_.at("premium"), !terms.contains("premium"));
    form_->setRowVisible(lines_.at("vat"), !terms.contains("vat_on_premium_percent"));
    terms_->setVisible(!terms.empty());
    if (terms.empty()) return;
    terms_->setText(terms.contains("premium")
                        ? tr("Terms as recorded with the lot: premium %1, and what else stands there.")
                              .arg(bands_in_words(terms["premium"]))
                        : tr("Terms as recorded with the lot; the premium is not among them."));
}

void CeilingPanel::resizeEvent(QResizeEvent* event) {
    QWidget::resizeEvent(event);
    const auto wanted = width() < narrow_px ? QFormLayout::WrapAllRows : QFormLayout::WrapLongRows;
    if (form_->rowWrapPolicy() != wanted) form_->setRowWrapPolicy(wanted);
}

bool CeilingPanel::eventFilter(QObject* watched, QEvent* event) {
    if (!is_idle_wheel(watched, event)) return QWidget::eventFilter(watched, event);
    event->ignore();
    return true;
}

Expected<std::string> CeilingPanel::plan_json() const {
    const auto currency = Currency::parse(plain(currency_->currentText().toUpper()));
    if (!currency) return pass_on(currency);
    const auto costs = snapshot_ ? costs_in(*snapshot_, *currency) : Expected<json>(json::array());
    if (!costs) return pass_on(costs);
    const auto typed = [&](const char* name) { return lines_.at(name)->text().trimmed(); };
    json plan = {{"currency", std::string(currency->code())}, {"selling", "margin-scheme"}, {"vat_percent", 20}};
    json sale = terms_of_lot(snapshot_);
    if (!sale.contains("premium")) {
        sale["premium"] = json::array({{{"percent", number_or_text(plain(typed("premium")))}}});
    }
    if (!sale.contains("vat_on_premium_percent")) {
        sale["vat_on_premium_percent"] = number_or_text(plain(typed("vat")));
    }
    plan["sale"] = std::move(sale);
    if (!plan["sale"].contains("increments")) plan["sale"]["increments"] = "common";
    plan["costs"] = *costs;
    plan["outcomes"] = json::array();
    for (const auto& [name, chance, price] :
         {std::tuple{"name1", "chance1", "price1"}, std::tuple{"name2", "chance2", "price2"}}) {
        if (typed(price).isEmpty()) continue;
        plan["outcomes"].push_back({{"name", plain(typed(name))},
                                    {"probability", probability(typed(chance))},
                                    {"price", estimate(typed(price))}});
    }
    plan["target"] = json::object();
    if (!typed("profit").isEmpty()) plan["target"]["profit"] = amount(typed("profit"));
    if (!typed("loss").isEmpty()) plan["target"]["loss_probability"] = probability(typed("loss"));
    if (!typed("cash").isEmpty()) plan["target"]["cash"] = amount(typed("cash"));
    return plan.dump();
}

void CeilingPanel::reckon() {
    fix_->setEnabled(false);
    if (lines_.size() < 11 || lines_.at("price1")->text().isEmpty()) {
        report_->setText(tr("Say what it may be and what it would sell for. Costs are those recorded below."));
        return;
    }
    const auto text = plan_json();
    const auto plan = text ? parse_ceiling_plan(*text) : Expected<money::CeilingPlan>(pass_on(text));
    const auto report = plan ? solve_ceiling(*plan) : Expected<CeilingReport>(pass_on(plan));
    report_->setProperty("role", report ? "plain" : "closed");
    report_->style()->unpolish(report_);
    report_->style()->polish(report_);
    report_->setText(report ? report_text(*report)
                            : QStringLiteral("⊘ ") + shown(report.error().message + " " + report.error().next));
    fix_->setEnabled(report && report->bid.has_value());
}

void CeilingPanel::fix() {
    const auto text = plan_json();
    const auto plan = text ? parse_ceiling_plan(*text) : Expected<money::CeilingPlan>(pass_on(text));
    const auto report = plan ? solve_ceiling(*plan) : Expected<CeilingReport>(pass_on(plan));
    if (!report || !report->bid || !snapshot_) return;
    casebook::FieldValues values;
    values.value("plan", json::parse(*text))
        .money("limit", *report->bid)
        .text("fixed_at", to_text(session_.how().clock->now()));
    json kept = {{"binding", report->binding ? std::string(money::limit_name(*report->binding)) : std::string("none")}};
    if (report->at_bid) {
        kept["expected_profit"] = to_decimal_text(report->at_bid->expected_profit);
        kept["all_in"] = to_decimal_text(report->at_bid->all_in);
        kept["loss_probability"] = report->at_bid->loss_probability;
    }
    values.value("report", kept);
    auto done = usecases::add_record(session_.acting(), snapshot_->picture.id, "ceiling", values);
    if (!done) {
        emit session_.refused(done.error());
        return;
    }
    session_.did(*std::move(done), tr("limit"));
}

}  // namespace tedge::desk
