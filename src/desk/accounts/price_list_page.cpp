#include "accounts/price_list_page.hpp"

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>

#include "accounts/figure_table.hpp"
#include "accounts/refusal.hpp"
#include "accounts/save_table.hpp"
#include "forms/entries/entry.hpp"
#include "tedge/usecases/house.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

constexpr int asked_column = 4;

QString list_heading(const Expected<usecases::House>& house, bool client_looks) {
    if (client_looks) return QObject::tr("The stock of the house");
    if (house && house->price_code.empty())
        return QObject::tr("The house has no price code yet, so no cost is shown: say one under “The house”.");
    return QObject::tr("What each picture cost so far stands in the code alone, up to the whole pound or euro.");
}

}  // namespace

PriceListPage::PriceListPage(BookSession& session, QWidget* parent)
    : QWidget(parent),
      session_(session),
      said_(new QLabel(this)),
      list_(new FigureTable({tr("Picture"), tr("Number"), tr("Bought"), tr("Code"), tr("Asked")}, 4, this)),
      told_(new QLabel(this)),
      refusal_(new Refusal(this)),
      save_(new QPushButton(tr("Save as CS&V …"), this)) {
    auto* column = new QVBoxLayout(this);
    for (QLabel* label : {said_, told_}) label->setWordWrap(true);
    list_->setAccessibleName(tr("Stock in the private price code"));
    save_->setMinimumHeight(target_px);
    save_->setAutoDefault(false);
    auto* acts = new QHBoxLayout;
    acts->addWidget(save_);
    acts->addWidget(told_, 1);
    column->addWidget(refusal_);
    column->addWidget(said_);
    column->addWidget(list_, 1);
    column->addLayout(acts);
    connect(refusal_, &Refusal::case_wanted, this, &PriceListPage::case_wanted);
    connect(list_, &FigureTable::opened, this, &PriceListPage::case_wanted);
    connect(save_, &QPushButton::clicked, this, [this] {
        const QString file = ask_for_table(this, tr("Save the price list"), tr("price-list.csv"));
        if (!file.isEmpty()) save_as(file);
    });
}

void PriceListPage::look() {
    const bool client_looks = session_.client_looks();
    auto rows = usecases::stock_list(session_.book());
    list_->setVisible(rows.has_value());
    save_->setVisible(rows.has_value() && !client_looks);
    told_->setVisible(!client_looks);
    rows_.clear();
    refusal_->hide();
    if (!rows) {
        // The sentence may name a sum.
        if (client_looks) return say_in(*said_, tr("The list cannot be shown now."), "plain");
        said_->clear();
        return refusal_->show_error(rows.error());
    }
    rows_ = *std::move(rows);
    say_in(*said_, list_heading(usecases::house_of(session_.book()), client_looks), "plain");
    std::vector<FigureCells> told;
    for (const usecases::StockListRow& row : rows_) {
        // Money is shown to nobody while a client looks; the code tells him nothing.
        const QString asked = client_looks || !row.asking_price ? QString() : shown(to_display_text(*row.asking_price));
        told.push_back(
            {{shown(row.description), shown(row.stock_number), day_text(row.bought_on), shown(row.cost_in_code), asked},
             row.case_id});
    }
    list_->setColumnHidden(asked_column, client_looks);
    list_->show_rows(told);
}

void PriceListPage::save_as(const QString& file) {
    const auto saved = save_table(file, usecases::stock_list_csv(rows_));
    if (saved) return say_in(*told_, tr("Saved %1.").arg(file), "done");
    say_in(*told_, shown(saved.error().message + " " + saved.error().next), "closed");
}

}  // namespace tedge::desk
