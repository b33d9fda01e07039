#include "saleday/terms_dialog.hpp"

#include <QComboBox>
#include <QFormLayout>
#include <QHeaderView>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QScrollArea>
#include <QSplitter>
#include <QVBoxLayout>
#include <algorithm>
#include <nlohmann/json.hpp>

#include "forms/at_hand.hpp"
#include "forms/entries/entry.hpp"
#include "forms/figure_text.hpp"
#include "forms/form_context.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/usecases/terms_to_begin_with.hpp"
#include "tedge/usecases/usual_currency.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

using nlohmann::json;

namespace {

constexpr QSize terms_size{1120, 800};
constexpr std::string_view terms_path = "terms/";

// Whole amounts are shown without decimals: the tables are read from the third row.
QString short_figure(const Money& money) {
    QString text = shown(to_display_text(money)).mid(static_cast<qsizetype>(money.currency.code().size()) + 1);
    if (text.endsWith(QStringLiteral(".00"))) text.chop(3);
    return text;
}

Money first_hammer(const casebook::CaseSnapshot& snapshot, const Currency& currency) {
    const auto limits = snapshot.of_kind("ceiling");
    const auto limit = limits.empty() ? std::nullopt : limits.back()->body.money("limit");
    if (limit && limit->currency == currency && limit->minor > 0) return *limit;
    return {1000 * currency.minor_per_major(), currency};
}

QScrollArea* scrolled_side(QWidget* inside, QWidget* parent) {
    auto* area = new QScrollArea(parent);
    area->setWidget(inside);
    area->setWidgetResizable(true);
    area->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    area->setVerticalScrollBarPolicy(Qt::ScrollBarAlwaysOn);
    area->setFocusPolicy(Qt::NoFocus);
    return area;
}

}  // namespace

TermsDialog::TermsDialog(BookSession& session, const casebook::CaseSnapshot& snapshot, QWidget* parent)
    : SaleDialog(session, tr("Terms of the sale, and what they come to"), terms_size, parent),
      context_(form_context(session, snapshot, casebook::find_kind("lot"))),
      currency_(usecases::currency_of_sale(session.book(), snapshot)),
      presets_(money::sale_presets_on(day_of_desk(session))),
      preset_(new QComboBox(this)),
      source_(new QLabel(this)),
      fault_(new QLabel(this)),
      prices_(make_table({tr("Hammer price"), tr("In all"), tr("More than the hammer")}, 0, tr("Round prices"), this)),
      hammer_(new QLineEdit(this)),
      routes_(
          make_table({tr("Way to bid"), tr("In all"), tr("Dearer by"), tr("As cheap at")}, 0, tr("Ways to bid"), this)),
      routes_source_(new QLabel(this)) {
    const auto lots = context_.snapshot.of_kind("lot");
    lot_ = lots.empty() ? nullptr : lots.back();
    auto* sides = new QSplitter(Qt::Horizontal, this);
    sides->setChildrenCollapsible(false);
    sides->addWidget(scrolled_side(typed_side(), this));
    sides->addWidget(scrolled_side(reckoned_side(), this));
    sides->setSizes({terms_size.width() * 2 / 5, terms_size.width() * 3 / 5});
    body().addWidget(sides, 1);
    QPushButton* save = add_act(tr("&Save with the lot"), [this] { this->save(); });
    save->setProperty("act", "main");
    save->setShortcut(QKeySequence(Qt::CTRL | Qt::Key_Return));
    save->setToolTip(tr("Ctrl+Return"));
    save->setEnabled(!session.book().read_only());
    reckon();
    preset_->setFocus();
}

QWidget* TermsDialog::typed_side() {
    auto* side = new QWidget(this);
    auto* column = new QVBoxLayout(side);
    column->setContentsMargins(0, 0, 10, 0);
    auto* label = new QLabel(tr("&Begin with"), side);
    label->setBuddy(preset_);
    preset_->setMinimumHeight(target_px);
    preset_->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    preset_->setMinimumContentsLength(10);
    preset_->addItem(tr("terms usual elsewhere …"), QString());
    for (const money::SalePreset& each : presets_) preset_->addItem(shown(each.label), shown(each.name));
    source_->setWordWrap(true);
    source_->setProperty("role", "faded");
    source_->setText(tr("They name no house. The sale's own conditions decide: read them."));
    column->addWidget(label);
    column->addWidget(preset_);
    column->addWidget(source_);
    for (const casebook::Field& field : casebook::parts_asked("lot", "terms")) {
        auto* made = new FieldEditor(field, context_, offered_for(field, context_), side);
        made->show_value(lot_ != nullptr ? lot_->body : casebook::Body());
        connect(made, &FieldEditor::edited, this, &TermsDialog::reckon);
        column->addWidget(made);
        editors_.push_back(made);
    }
    column->addStretch(1);
    connect(preset_, &QComboBox::activated, this, &TermsDialog::begin_with_chosen);
    return side;
}

QWidget* TermsDialog::reckoned_side() {
    auto* side = new QWidget(this);
    auto* column = new QVBoxLayout(side);
    column->setContentsMargins(6, 0, 10, 0);
    fault_->setWordWrap(true);
    column->addWidget(fault_);
    auto* asked = new QFormLayout;
    hammer_->setText(short_figure(first_hammer(context_.snapshot, currency_)));
    hammer_->setAccessibleName(tr("Hammer price to compare the ways to bid at"));
    hammer_->setMinimumHeight(target_px);
    asked->addRow(tr("One &hammer price, in %1").arg(shown(currency_.code())), hammer_);
    column->addLayout(asked);
    column->addWidget(routes_);
    routes_->horizontalHeaderItem(routes_->columnCount() - 1)
        ->setToolTip(tr("The hammer price at which this way comes to as much as the cheapest"));
    routes_source_->setWordWrap(true);
    routes_source_->setProperty("role", "faded");
    column->addWidget(routes_source_);
    auto* round = new QLabel(tr("Round hammer prices, by these terms"), side);
    QFont bold = round->font();
    bold.setWeight(QFont::DemiBold);
    round->setFont(bold);
    column->addWidget(round);
    column->addWidget(prices_);
    column->addStretch(1);
    connect(hammer_, &QLineEdit::textChanged, this, &TermsDialog::reckon);
    return side;
}

FieldEditor* TermsDialog::editor(std::string_view field) const {
    const auto found = std::ranges::find_if(editors_, [&](const FieldEditor* e) { return e->field().name == field; });
    return found != editors_.end() ? *found : nullptr;
}

void TermsDialog::begin_with(std::string_view preset) {
    preset_->setCurrentIndex(preset_->findData(shown(preset)));
    begin_with_chosen();
}

// What a preset does not say (days to pay, when the risk passes) stays as it was read.
void TermsDialog::begin_with_chosen() {
    const auto found = std::ranges::find_if(
        presets_, [&](const money::SalePreset& each) { return shown(each.name) == preset_->currentData().toString(); });
    if (found == presets_.end()) return;
    const casebook::Body lot(json{{"terms", usecases::terms_of_preset(*found)}});
    for (FieldEditor* each : editors_)
        if (lot.has(each->field().name)) each->set_typed(typed_text(each->field(), lot, context_));
    increments_ = found->increments;
    if (context_.snapshot.of_kind("lot").empty()) currency_ = found->terms.currency;
    source_->setText(tr("%1; source: %2. Bids by the increments “%3”. The sale's own conditions decide: read them.")
                         .arg(capital(shown(found->status)), shown(found->source), shown(found->increments)));
    reckon();
}

casebook::Body TermsDialog::as_typed() const {
    json terms = lot_ != nullptr ? lot_->body.as_json().value("terms", json::object()) : json::object();
    if (!terms.is_object()) terms = json::object();
    for (const FieldEditor* each : editors_) {
        const std::string name(each->field().name.substr(terms_path.size()));
        terms.erase(name);
        casebook::FieldValues value;
        if (each->typed().isEmpty() || !read_typed(each->field(), each->typed(), context_, value).fits()) continue;
        if (const json& set = value.set_values(); !set.empty()) terms[name] = set.begin().value();
    }
    return casebook::Body(json{{"terms", terms}});
}

bool TermsDialog::has_unsaved() const {
    return std::ranges::any_of(editors_, [](const FieldEditor* each) { return each->touched(); });
}

void TermsDialog::reckon() {
    typed_on();
    const auto terms = usecases::sale_terms_in(as_typed(), currency_);
    routes_->setRowCount(0);
    prices_->setRowCount(0);
    if (!terms) {
        const bool is_begun = terms.error().code != "lot.no-terms";
        show_fault(is_begun ? QStringLiteral("⊘ ") + error_words(terms.error())
                            : tr("Say the premium, or begin with usual terms, and what it comes to stands here."));
    } else {
        show_fault({});
        show_prices(*terms);
        show_routes(*terms);
    }
    fit_to_rows(*routes_);
    fit_to_rows(*prices_);
    for (QTableWidget* each : {routes_, prices_}) each->setVisible(each->rowCount() > 0);
    routes_source_->setVisible(routes_->rowCount() > 0);
}

void TermsDialog::show_fault(const QString& text) {
    say_in(*fault_, text, text.startsWith(QStringLiteral("⊘")) ? "closed" : "plain");
    fault_->setVisible(!text.isEmpty());
}

void TermsDialog::show_prices(const money::SaleTerms& terms) {
    const auto lines = money::round_hammers(terms);
    if (!lines) return show_fault(QStringLiteral("⊘ ") + error_words(lines.error()));
    prices_->setRowCount(static_cast<int>(lines->size()));
    int row = 0;
    for (const money::RoundHammer& line : *lines) {
        put_cell(*prices_, row, 0, shown(to_display_text(line.hammer)).section(u'.', 0, 0));
        put_cell(*prices_, row, 1, short_figure(line.all_in), CellSort::figure);
        put_cell(*prices_, row++, 2, tr("%1 %").arg(shown(format_fixed(line.percent_above_hammer, 1))),
                 CellSort::figure);
    }
}

void TermsDialog::show_routes(const money::SaleTerms& terms) {
    const auto hammer = parse_money(plain(ungrouped(hammer_->text())), currency_);
    const auto costs = hammer ? money::compare_routes(terms, money::usual_bidding_routes(), *hammer)
                              : Expected<std::vector<money::RouteCost>>(pass_on(hammer));
    if (!costs) return show_fault(QStringLiteral("⊘ ") + error_words(costs.error()));
    routes_->setRowCount(static_cast<int>(costs->size()));
    QStringList statuses;
    int row = 0;
    for (const money::RouteCost& cost : *costs) {
        put_cell(*routes_, row, 0, shown(cost.route.label));
        put_cell(*routes_, row, 1, short_figure(cost.total), CellSort::figure);
        put_cell(*routes_, row, 2, cost.dearer_by.minor == 0 ? QStringLiteral("–") : short_figure(cost.dearer_by),
                 CellSort::figure);
        put_cell(*routes_, row++, 3, short_figure(cost.same_all_in_at), CellSort::figure);
        if (!statuses.contains(shown(cost.route.status))) statuses << shown(cost.route.status);
    }
    routes_source_->setText(
        tr("What the ways to bid add is %1: ask the saleroom. It takes the place of a surcharge among "
           "the terms. “As cheap at” is the hammer price that comes to as much as the cheapest. All in %2.")
            .arg(statuses.join(QStringLiteral(", ")), shown(currency_.code())));
}

void TermsDialog::save() {
    casebook::FieldValues values;
    bool fits = true;
    for (FieldEditor* each : editors_) fits = each->put_into(values) && fits;
    if (!fits) return say(tr("⊘ Something does not fit: it says so beside the field."), "closed");
    if (!increments_.empty()) values.text("terms/increments", increments_);
    if (values.empty()) return accept();
    auto done = lot_ != nullptr
                    ? usecases::change_record(session().acting(), lot_->id, values, {}, lot_->newest_changes)
                    : usecases::add_record(session().acting(), context_.snapshot.picture.id, "lot", values);
    if (!done) return say_error(done.error());
    session().did(*std::move(done), tr("terms of the sale"));
    accept();
}

}  // namespace tedge::desk
