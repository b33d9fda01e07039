#include "accounts/portfolio_page.hpp"

#include <QHBoxLayout>
#include <QLabel>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QVBoxLayout>

#include "accounts/amount_words.hpp"
#include "accounts/figure_table.hpp"
#include "accounts/save_table.hpp"
#include "forms/entries/entry.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

using usecases::PortfolioMonth;
using usecases::PortfolioRow;

constexpr int pictures_share = 7;
constexpr int months_share = 4;
constexpr int doubts_height = 84;

QString how_it_stands(const PortfolioRow& row) {
    if (row.sold) return QObject::tr("sold");
    if (row.limit) return QObject::tr("not bought, limit %1").arg(shown(to_display_text(*row.limit)));
    if (!row.expected_month.empty()) return QObject::tr("sale expected %1").arg(date_words(row.expected_month));
    return QObject::tr("unsold");
}

FigureCells picture_row(const PortfolioRow& row, const Currency& here) {
    // Of what is sold the result is the end of it; of the others it is what the plan expects.
    const std::optional<Money> in_the_end = row.sold ? std::optional(row.result) : row.expected_result;
    const std::optional<Money> worst = row.sold ? std::optional(row.result) : row.worst_result;
    return {{shown(row.title) + u'\n' + how_it_stands(row), short_amount(row.paid_out, here),
             short_amount(row.paid_in, here), short_amount(row.owed_by_us, here), short_amount(row.owed_to_us, here),
             short_amount(row.expected_out, here), short_amount(in_the_end, here), short_amount(worst, here)},
            row.case_id,
            worst && worst->minor < 0 ? Tone::warning : Tone::plain,
            QObject::tr("Enter opens the picture")};
}

FigureCells month_row(const PortfolioMonth& month, const Currency& here) {
    return {{month.month.empty() ? QObject::tr("no day said") : capital(date_words(month.month)),
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
      save_(new QPushButton(tr("Save as CS&V …"), this)),
      save_months_(new QPushButton(tr("Save the &months as CSV …"), this)) {
    make_layout();
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
    auto* tables = new QHBoxLayout;
    tables->addWidget(pictures_, pictures_share);
    tables->addWidget(months_, months_share);
    auto* acts = new QHBoxLayout;
    for (QPushButton* each : {save_, save_months_}) {
        each->setMinimumHeight(target_px);
        each->setAutoDefault(false);
        acts->addWidget(each);
    }
    acts->addWidget(told_, 1);
    column->addWidget(sums_);
    column->addLayout(tables, 1);
    column->addWidget(doubts_);
    column->addLayout(acts);
}

void PortfolioPage::look() {
    auto made = usecases::portfolio(session_.book());
    made_.reset();
    if (made) made_ = *std::move(made);
    for (QWidget* each : std::initializer_list<QWidget*>{pictures_, months_, save_, save_months_})
        each->setVisible(made_.has_value());
    if (!made_) {
        doubts_->hide();
        return say_in(*sums_, QStringLiteral("⊘ ") + shown(made.error().message + " " + made.error().next), "closed");
    }
    show_portfolio();
}

void PortfolioPage::show_portfolio() {
    const Currency& here = made_->currency;
    say_in(*sums_, sums_text(*made_), "plain");
    std::vector<FigureCells> rows;
    for (const PortfolioRow& row : made_->rows) rows.push_back(picture_row(row, here));
    pictures_->show_rows(rows);
    std::vector<FigureCells> months;
    for (const PortfolioMonth& month : made_->months) months.push_back(month_row(month, here));
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
