#include "saleday/price_book_dialog.hpp"

#include <QLabel>
#include <QVBoxLayout>

#include "tedge/base/number_text.hpp"
#include "tedge/usecases/costs.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

constexpr QSize price_book_size{860, 560};

QString measure_words(const std::string& measure) {
    if (measure == "m2") return QObject::tr("m²");
    return shown(measure);
}

}  // namespace

PriceBookDialog::PriceBookDialog(BookSession& session, QWidget* parent)
    : SaleDialog(session, tr("Price book"), price_book_size, parent),
      table_(make_table({tr("Act"), tr("per"), tr("Cheapest"), tr("Middle"), tr("Dearest"), tr("Costs"),
                         tr("Came to, of the estimate")},
                        0, tr("What acts came to"), this)) {
    auto* head = new QLabel(tr("What acts came to in past cases, net as recorded. Three costs of an act take the place "
                               "of the table of hours, which is from memory, when costs are suggested."),
                            this);
    head->setWordWrap(true);
    body().addWidget(head);
    body().addWidget(table_, 1);
    const auto prices = usecases::price_book(session.book());
    if (!prices) {
        say_error(prices.error());
        return;
    }
    for (const usecases::PricedAct& priced : *prices) {
        const int row = table_->rowCount();
        table_->insertRow(row);
        const auto money = [&](std::int64_t minor) { return shown(to_display_text({minor, priced.currency})); };
        put_cell(*table_, row, 0, capital(spoken(priced.treatment)));
        int column = 1;
        for (const QString& text :
             {measure_words(priced.measure), money(priced.unit_price_minor.low), money(priced.unit_price_minor.likely),
              money(priced.unit_price_minor.high),
              priced.cases < usecases::cases_for_a_price ? tr("%1 (too few)").arg(priced.cases)
                                                         : QString::number(priced.cases),
              priced.actual_to_likely ? tr("%1 %").arg(shown(format_fixed(100.0 * *priced.actual_to_likely, 0)))
                                      : QStringLiteral("–")})
            put_cell(*table_, row, column++, text, CellSort::figure);
    }
    table_->setFocus();
    if (prices->empty())
        say(tr("No past cost names its act and what it came to: enter both with a cost, and it stands here."), "plain");
}

}  // namespace tedge::desk
