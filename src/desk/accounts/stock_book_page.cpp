#include "accounts/stock_book_page.hpp"

#include <fmt/format.h>

#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QVBoxLayout>

#include "accounts/amount_words.hpp"
#include "accounts/figure_table.hpp"
#include "accounts/refusal.hpp"
#include "accounts/save_table.hpp"
#include "forms/entries/entry.hpp"
#include "forms/typed_day.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

constexpr int day_width = 160;
constexpr int margin_share = 3;
constexpr int ordinary_share = 2;
constexpr int missing_height = 84;

QString said_or_gap(const std::string& text) {
    return text.empty() ? QStringLiteral("–") : shown(text);
}

// "12 Mar 2026\ninvoice 88, Ada Wren": the day, and by what and from or to whom.
QString movement(const std::string& day, const std::string& invoice, const std::string& party, const QString& gap) {
    if (day.empty()) return gap;
    return short_day_text(day, "") + u'\n' +
           QObject::tr("invoice %1, %2").arg(said_or_gap(invoice), said_or_gap(party));
}

FigureCells margin_row(const money::StockBookRow& row, const Currency& here) {
    const money::StockBookEntry& entry = row.entry;
    QString left = movement(entry.sold_on, entry.sales_invoice, entry.buyer, QObject::tr("in stock"));
    if (!entry.disposal.empty()) left = short_day_text(entry.sold_on, "") + u'\n' + shown(entry.disposal);
    return {{shown(entry.description), said_or_gap(entry.stock_number),
             movement(entry.purchased_on, entry.purchase_invoice, entry.seller, QObject::tr("day not said")), left,
             short_amount(entry.purchase_price, here), short_amount(entry.selling_price, here),
             short_amount(row.margin, here), short_amount(row.vat, here)}};
}

FigureCells ordinary_row(const usecases::OrdinaryVatRow& row, const Currency& here) {
    QString left = movement(row.sold_on, row.sales_invoice, row.buyer, QObject::tr("in stock"));
    if (row.exported) left += QObject::tr(", exported");
    return {{shown(row.description), said_or_gap(row.stock_number),
             movement(row.purchased_on, row.purchase_invoice, row.seller, QObject::tr("day not said")), left,
             short_amount(row.purchase_price, here), short_amount(row.input_vat, here),
             short_amount(row.selling_price, here), short_amount(row.output_vat, here)}};
}

}  // namespace

StockBookPage::StockBookPage(BookSession& session, QWidget* parent)
    : QWidget(parent),
      session_(session),
      from_(new QLineEdit(this)),
      to_(new QLineEdit(this)),
      margin_sums_(new QLabel(this)),
      margin_(new FigureTable({tr("Margin scheme"), tr("Number"), tr("Bought"), tr("Left"), tr("Paid for it"),
                               tr("Sold for"), tr("Margin"), tr("VAT due")},
                              4, this)),
      ordinary_sums_(new QLabel(this)),
      ordinary_(new FigureTable({tr("Ordinary VAT"), tr("Number"), tr("Bought"), tr("Left"), tr("Paid for it"),
                                 tr("VAT reclaimed"), tr("Sold for"), tr("VAT owed")},
                                4, this)),
      missing_(new QPlainTextEdit(this)),
      told_(new QLabel(this)),
      refusal_(new Refusal(this)),
      save_(new QPushButton(tr("Save as CS&V …"), this)),
      save_ordinary_(new QPushButton(tr("Save &ordinary VAT as CSV …"), this)) {
    const std::string today = to_text(session_.acting().clock.now()).substr(0, 10);
    from_->setText(day_text(today.substr(0, 4) + "-01-01"));
    to_->setText(day_text(today));
    make_layout();
    connect(refusal_, &Refusal::case_wanted, this, &StockBookPage::case_wanted);
    for (QLineEdit* each : {from_, to_}) connect(each, &QLineEdit::editingFinished, this, &StockBookPage::look);
    connect(save_, &QPushButton::clicked, this, [this] {
        const QString file = ask_for_table(this, tr("Save the stock book"), tr("stock-book.csv"));
        if (!file.isEmpty()) save_margin_as(file);
    });
    connect(save_ordinary_, &QPushButton::clicked, this, [this] {
        const QString file = ask_for_table(this, tr("Save what stands under ordinary VAT"), tr("ordinary-vat.csv"));
        if (!file.isEmpty()) save_ordinary_as(file);
    });
}

void StockBookPage::make_layout() {
    auto* column = new QVBoxLayout(this);
    auto* period = new QHBoxLayout;
    for (const auto& [name, line] : {std::pair(tr("&From"), from_), std::pair(tr("&until"), to_)}) {
        auto* label = new QLabel(name, this);
        label->setBuddy(line);
        line->setMinimumHeight(target_px);
        line->setFixedWidth(day_width);
        line->setPlaceholderText(tr("1 April 2026"));
        period->addWidget(label);
        period->addWidget(line);
    }
    period->addStretch();
    for (QLabel* label : {margin_sums_, ordinary_sums_, told_}) label->setWordWrap(true);
    margin_->setAccessibleName(tr("Stock book of the margin scheme"));
    ordinary_->setAccessibleName(tr("Stock under ordinary VAT"));
    missing_->setReadOnly(true);
    missing_->setTabChangesFocus(true);
    missing_->setFixedHeight(missing_height);
    missing_->setAccessibleName(tr("Particulars that are missing"));
    auto* acts = new QHBoxLayout;
    for (QPushButton* each : {save_, save_ordinary_}) {
        each->setMinimumHeight(target_px);
        each->setAutoDefault(false);
        acts->addWidget(each);
    }
    acts->addWidget(told_, 1);
    column->addLayout(period);
    column->addWidget(refusal_);
    column->addWidget(margin_sums_);
    column->addWidget(margin_, margin_share);
    column->addWidget(ordinary_sums_);
    column->addWidget(ordinary_, ordinary_share);
    column->addWidget(missing_);
    column->addLayout(acts);
}

void StockBookPage::set_period(const QString& from, const QString& to) {
    from_->setText(from);
    to_->setText(to);
    look();
}

void StockBookPage::refuse(const Error& error) {
    made_.reset();
    for (QWidget* each : std::initializer_list<QWidget*>{margin_sums_, margin_, ordinary_, ordinary_sums_, missing_,
                                                         save_, save_ordinary_})
        each->hide();
    refusal_->show_error(error);
}

void StockBookPage::look() {
    const std::string today = to_text(session_.acting().clock.now()).substr(0, 10);
    const auto from = read_day(from_->text(), today);
    const auto to = read_day(to_->text(), today);
    if (!from || !to)
        return refuse({"stock.period",
                       fmt::format("\"{}\" is no day.", plain(from ? to_->text() : from_->text())),
                       "Write it as 1 April 2026.",
                       {}});
    const auto first = parse_date(*from);
    const auto last = parse_date(*to);
    if (!first) return refuse(first.error());
    if (!last) return refuse(last.error());
    auto made = usecases::stock_book_of(session_.book(), *first, *last);
    if (!made) return refuse(made.error());
    refusal_->hide();
    margin_sums_->show();
    made_ = *std::move(made);
    show_book();
}

void StockBookPage::show_book() {
    const money::StockBook& book = made_->book;
    const usecases::OrdinaryVat& ordinary = made_->ordinary;
    const Currency& here = book.vat_due.currency;
    say_in(*margin_sums_,
           tr("Margin scheme, in %1: sold for %2, bought for %3; VAT due on the margins %4.")
               .arg(shown(here.code()), short_amount(book.sales, here), short_amount(book.purchases, here),
                    short_amount(book.vat_due, here)),
           "plain");
    std::vector<FigureCells> rows;
    for (const money::StockBookRow& row : book.rows) rows.push_back(margin_row(row, here));
    margin_->show_rows(rows);
    margin_->setVisible(!rows.empty());
    std::vector<FigureCells> others;
    for (const usecases::OrdinaryVatRow& row : ordinary.rows) others.push_back(ordinary_row(row, here));
    ordinary_->show_rows(others);
    for (QWidget* each : std::initializer_list<QWidget*>{ordinary_, save_ordinary_}) each->setVisible(!others.empty());
    say_in(*ordinary_sums_,
           others.empty()
               ? tr("Nothing of this period stands under ordinary VAT.")
               : tr("Ordinary VAT: owed on sales %1, reclaimed on purchases %2. Whether a scheme may be used "
                    "is for an accountant to say.")
                     .arg(short_amount(ordinary.output_vat, here), short_amount(ordinary.input_vat, here)),
           "plain");
    ordinary_sums_->show();
    save_->show();
    QStringList missing;
    for (const auto* sentences : {&book.missing, &ordinary.missing})
        for (const std::string& sentence : *sentences) missing << QStringLiteral("△ ") + shown(sentence);
    missing_->setPlainText(missing.join(u'\n'));
    missing_->setVisible(!missing.isEmpty());
}

void StockBookPage::say_saved(const Expected<void>& saved, const QString& file) {
    if (!saved) return say_in(*told_, shown(saved.error().message + " " + saved.error().next), "closed");
    const bool is_whole = made_->book.missing.empty() && made_->ordinary.missing.empty();
    say_in(*told_,
           is_whole ? tr("Saved %1.").arg(file) : tr("Saved %1. △ Particulars are missing, see above.").arg(file),
           is_whole ? "done" : "warning");
}

void StockBookPage::save_margin_as(const QString& file) {
    if (made_) say_saved(save_table(file, money::stock_book_csv(made_->book)), file);
}

void StockBookPage::save_ordinary_as(const QString& file) {
    if (made_) say_saved(save_table(file, usecases::ordinary_vat_csv(made_->ordinary)), file);
}

}  // namespace tedge::desk
