#include "accounts/portfolio_page.hpp"

#include <QHBoxLayout>
#include <QLabel>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QVBoxLayout>

#include "accounts/amount_words.hpp"
#include "accounts/figure_table.hpp"
#include "accounts/refusal.hpp"
#include "accounts/save_table.hpp"
#include "forms/entries/entry.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

using usecases::PortfolioMonth;
using usecases::PortfolioRow;

constexpr int pictures_share = 5;
constexpr int months_share = 3;
constexpr int doubts_height = 84;

// Months as "2026-11" compare as text.
QString month_words(const std::string& month, const std::string& this_month) {
    const QString words = capital(date_words(month));
    return month < this_month ? QObject::tr("△ %1, past").arg(words) : words;
}

QString how_it_stands(const PortfolioRow& row, const std::string& this_month) {
    if (row.sold) return QObject::tr("sold");
    if (row.limit) return QObject::tr("not bought, limit %1").arg(shown(to_display_text(*row.limit)));
    if (!row.expected_month.empty() && row.expected_month < this_month)
        return QObject::tr("△ sale was expected %1").arg(date_words(row.expected_month));
    if (!row.expected_month.empty()) return QObject::tr("sale expected %1").arg(date_words(row.expected_month));
    return QObject::tr("unsold");
}

FigureCells picture_row(const PortfolioRow& row, const Currency& here, const std::string& this_month) {
    // Of what is sold the result is the end of it; of the others it is what the plan expects.
    const std::optional<Money> in_the_end = row.sold ? std::optional(row.result) : row.expected_result;
    const std::optional<Money> worst = row.sold ? std::optional(row.result) : row.worst_result;
    const bool loses = in_the_end && in_the_end->minor < 0;
    const QString result = short_amount(in_the_end, here);
    return {{shown(row.title) + u'\n' + how_it_stands(row, this_month), short_amount(row.paid_out, here),
             short_amount(row.paid_in, here), short_amount(row.owed_by_us, here), short_amount(row.owed_to_us, here),
             short_amount(row.expected_out, here), loses ? QStringLiteral("△ ") + result : result,
             short_amount(worst, here)},
            row.case_id,
            loses ? Tone::warning : Tone::plain,
            QObject::tr("Enter opens the picture")};
}

FigureCells month_row(const PortfolioMonth& month, const Currency& here, const std::string& this_month) {
    return {{month.month.empty() ? QObject::tr("No day said") : month_words(month.month, this_month),
             short_amount(month.needed, here), short_amount(month.at_most, here), short_amount(month.expected, here)}};
}

QString sums_text(const usecases::Portfolio& made) {
    const Currency& here = made.currency;
    return QObject::tr(
               "In %1. Paid out %2, paid in %3. We owe %4, owed to us %5. Expected out of what is unsold %6. If every "
               "picture goes worst, all of them together come to %7.")
        .arg(shown(here.code()), short_amount(made.paid_out, here), short_amount(made.paid_in, here),
             short_amount(made.owed_by_us, here), short_amount(made.owed_to_us, here),
             short_amount(made.expected_out, here), short_amount(made.worst_result, here));
}

}  // namespace

PortfolioPage::PortfolioPage(BookSession& session, QWidget* parent)
    : QWidget(parent),
      session_(session),
      sums_(new QLabel(this)),
      pictures_(new FigureTable({tr("Picture"), tr("Paid out"), tr("Paid in"), tr("We owe"), tr("Owed to us"),
                                 tr("Expected out"), tr("Result"), tr("At worst")},
                                1, this)),
      months_(new FigureTable({tr("Month"), tr("Needed"), tr("At most"), tr("Expected")}, 1, this)),
      doubts_(new QPlainTextEdit(this)),
      told_(new QLabel(this)),
      refusal_(new Refusal(this)),
      save_(new QPushButton(tr("Save as CS&V …"), this)),
      save_months_(new QPushButton(tr("Save the &months as CSV …"), this)) {
    make_layout();
    connect(refusal_, &Refusal::case_wanted, this, &PortfolioPage::case_wanted);
    connect(pictures_, &FigureTable::opened, this, &PortfolioPage::case_wanted);
    connect(save_, &QPushButton::clicked, this, [this] {
        const QString file = ask_for_table(this, tr("Save the pictures"), tr("portfolio.csv"));
        if (!file.isEmpty()) save_pictures_as(file);
    });
    connect(save_months_, &QPushButton::clicked, this, [this] {
        const QString file = ask_for_table(this, tr("Save the months"), tr("cash-by-month.csv"));
        if (!file.isEmpty()) save_months_as(file);
    });
}

void PortfolioPage::make_layout() {
    auto* column = new QVBoxLayout(this);
    for (QLabel* label : {sums_, told_}) {
        label->setWordWrap(true);
        label->setTextInteractionFlags(Qt::TextSelectableByMouse);
    }
    pictures_->setAccessibleName(tr("All pictures and their money"));
    months_->setAccessibleName(tr("Cash by month"));
    doubts_->setReadOnly(true);
    doubts_->setTabChangesFocus(true);
    doubts_->setFixedHeight(doubts_height);
    doubts_->setAccessibleName(tr("What the figures do not know"));
    auto* acts = new QHBoxLayout;
    for (QPushButton* each : {save_, save_months_}) {
        each->setMinimumHeight(target_px);
        each->setAutoDefault(false);
        acts->addWidget(each);
    }
    acts->addWidget(told_, 1);
    column->addWidget(refusal_);
    column->addWidget(sums_);
    column->addWidget(pictures_, pictures_share);
    column->addWidget(months_, months_share);
    column->addWidget(doubts_);
    column->addLayout(acts);
}

void PortfolioPage::look() {
    auto made = usecases::portfolio(session_.book());
    made_.reset();
    if (made) made_ = *std::move(made);
    for (QWidget* each : std::initializer_list<QWidget*>{sums_, pictures_, months_, save_, save_months_})
        each->setVisible(made_.has_value());
    refusal_->hide();
    if (!made_) {
        doubts_->hide();
        return refusal_->show_error(made.error());
    }
    show_portfolio();
}

void PortfolioPage::show_portfolio() {
    const Currency& here = made_->currency;
    say_in(*sums_, sums_text(*made_), "plain");
    const std::string this_month = to_text(session_.acting().clock.now()).substr(0, 7);
    std::vector<FigureCells> rows;
    for (const PortfolioRow& row : made_->rows) rows.push_back(picture_row(row, here, this_month));
    pictures_->show_rows(rows);
    std::vector<FigureCells> months;
    for (const PortfolioMonth& month : made_->months) months.push_back(month_row(month, here, this_month));
    months_->show_rows(months);
    QStringList doubts;
    for (const std::string& doubt : made_->doubts) doubts << QStringLiteral("△ ") + shown(doubt);
    doubts_->setPlainText(doubts.join(u'\n'));
    doubts_->setVisible(!doubts.isEmpty());
}

void PortfolioPage::say_saved(const Expected<void>& saved, const QString& file) {
    if (saved) return say_in(*told_, tr("Saved %1.").arg(file), "done");
    say_in(*told_, shown(saved.error().message + " " + saved.error().next), "closed");
}

void PortfolioPage::save_pictures_as(const QString& file) {
    if (made_) say_saved(save_table(file, usecases::portfolio_csv(*made_)), file);
}

void PortfolioPage::save_months_as(const QString& file) {
    if (made_) say_saved(save_table(file, usecases::portfolio_months_csv(*made_)), file);
}

}  // namespace tedge::desk
