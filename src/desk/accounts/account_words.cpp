#include "accounts/account_words.hpp"

#include <algorithm>
#include <array>

#include "accounts/amount_words.hpp"
#include "table_words.hpp"
#include "tedge/casebook/snapshot.hpp"
#include "text.hpp"

namespace tedge::desk {

using usecases::AccountEntry;
using usecases::CaseAccounts;
using usecases::Outlook;

namespace {

QString name_of(const casebook::CaseSnapshot& snapshot, const std::optional<Uuid>& person) {
    const casebook::Record* found = person ? snapshot.find(*person) : nullptr;
    return found != nullptr ? shown(found->body.text_or("name")) : QString();
}

bool is_overdue(const AccountEntry& entry, const std::string& today) {
    return entry.owed && entry.owed->minor > 0 && !entry.due_on.empty() && entry.due_on < today;
}

QString open_words(const AccountEntry& entry, const Currency& accounts, const std::string& today) {
    if (!entry.owed) return QStringLiteral("–");
    if (entry.owed->minor == 0) return QObject::tr("✓ paid");
    if (entry.owed->minor < 0)
        return QObject::tr("%1 too much paid")
            .arg(short_amount(Money{-entry.owed->minor, entry.owed->currency}, accounts));
    const QString sum = short_amount(*entry.owed, accounts);
    if (entry.due_on.empty()) return sum;
    const QString day = short_day_text(entry.due_on, today);
    return is_overdue(entry, today) ? QObject::tr("△ %1\nsince %2").arg(sum, day)
                                    : QObject::tr("%1\nby %2").arg(sum, day);
}

QString what_words(const AccountEntry& entry) {
    const QString said = capital(spoken(entry.what));
    const QString what = entry.kind == "commission" ? QObject::tr("%1, commission").arg(said) : said;
    return entry.incoming ? QObject::tr("%1 (in)").arg(what) : what;
}

QString two(const QString& what, const QString& figure) {
    return table_row({what, figure});
}

QString vat_rows(const usecases::AccountsSale& sale, const Currency& here) {
    if (!sale.vat) return {};
    QString of = QObject::tr("VAT at %1 %").arg(shown(sale.vat_percent.to_text()));
    if (sale.vat->margin)
        of = QObject::tr("VAT at %1 % in a margin of %2 over %3")
                 .arg(shown(sale.vat_percent.to_text()), short_amount(*sale.vat->margin, here),
                      short_amount(sale.margin_price, here));
    if (sale.scheme == money::SaleScheme::exported) of = QObject::tr("VAT, zero-rated as an export");
    if (sale.scheme == money::SaleScheme::untaxed) of = QObject::tr("VAT, sold without any");
    QString rows = two(of, short_amount(sale.vat->vat, here));
    if (sale.vat->recovered.minor != 0)
        rows += two(QObject::tr("VAT of the purchase recovered"), short_amount(sale.vat->recovered, here));
    return rows;
}

QString deposits_row(const Money& held, const Currency& here) {
    if (held.minor == 0) return {};
    if (held.minor > 0) return two(QObject::tr("Our deposits with others"), short_amount(held, here));
    return two(QObject::tr("Deposits of others with us"), short_amount(Money{-held.minor, here}, here));
}

// What an unsold picture may still come to, by the plan of the limit fixed last.
QString outlook_rows(const usecases::PortfolioRow& row, const Currency& here) {
    QString rows;
    if (row.costs_to_come && row.costs_to_come->minor + row.costs_at_most->minor != 0)
        rows += two(QObject::tr("Costs to come, at most %1").arg(short_amount(row.costs_at_most, here)),
                    short_amount(row.costs_to_come, here));
    if (!row.expected_result) return rows;
    const QString when =
        row.expected_month.empty() ? QString() : QObject::tr(", %1").arg(date_words(row.expected_month));
    rows +=
        two(QObject::tr("Sale expected%1, less VAT and commission").arg(when), short_amount(row.expected_out, here));
    rows += two(QObject::tr("Result expected"), short_amount(row.expected_result, here));
    return rows + two(QObject::tr("Result at worst"), short_amount(row.worst_result, here));
}

QString share_words(const usecases::AccountsShare& share, const QString& name, const Currency& here) {
    QString text =
        QObject::tr("%1, %2 %").arg(name.isEmpty() ? QObject::tr("unnamed") : name, shown(share.percent.to_text()));
    if (share.paid_in.minor != 0) text += QObject::tr(", paid in %1").arg(short_amount(share.paid_in, here));
    if (share.paid_out.minor != 0) text += QObject::tr(", has had %1").arg(short_amount(share.paid_out, here));
    return text;
}

// One under the other: a sheet in a small window has no room for four columns.
QString part_rows(const QString& who, const Money& now, const std::optional<Money>& expected,
                  const std::optional<Money>& worst, const Currency& here) {
    QString rows = two(who, short_amount(now, here));
    if (expected) rows += two(QObject::tr("   expected"), short_amount(expected, here));
    if (worst) rows += two(QObject::tr("   at worst"), short_amount(worst, here));
    return rows;
}

std::optional<Money> part_of(const std::optional<money::SharedResult>& divided, std::size_t i) {
    return divided ? std::optional(divided->shares.at(i)) : std::nullopt;
}

std::optional<Money> ours_of(const std::optional<money::SharedResult>& divided) {
    return divided ? std::optional(divided->ours) : std::nullopt;
}

// As a deal goes: bought, worked on, sold, paid for having been found.
int place_in_deal(const AccountEntry& entry) {
    constexpr std::array order{"purchase", "cost_line", "sale", "commission", "return"};
    return static_cast<int>(std::ranges::find(order, entry.kind) - order.begin());
}

FigureCells line_cells(const QString& what, const std::optional<casebook::Body::MoneyEstimate>& estimate,
                       const QString& actual, const QString& open, const Currency& here, EstimatesIn where) {
    const QString estimated = estimate ? short_estimate(*estimate, here) : QStringLiteral("–");
    const bool below = where == EstimatesIn::the_words && estimate;
    return {{below ? QObject::tr("%1\nestimated %2").arg(what, estimated) : what, estimated, actual, open}};
}

// Work and charges together, where every estimate and amount is in the currency of the accounts.
std::optional<FigureCells> all_costs_row(const CaseAccounts& accounts, EstimatesIn where) {
    casebook::Body::MoneyEstimate estimated{{0, 0, 0}, accounts.currency};
    Money actual{0, accounts.currency};
    int lines = 0;
    for (const AccountEntry& entry : accounts.entries) {
        if (entry.kind != "cost_line") continue;
        ++lines;
        const bool is_here = (!entry.estimate || entry.estimate->currency == accounts.currency) &&
                             (!entry.due || entry.due->currency == accounts.currency);
        if (!is_here) return std::nullopt;
        if (entry.estimate) {
            estimated.minor.low += entry.estimate->minor.low;
            estimated.minor.likely += entry.estimate->minor.likely;
            estimated.minor.high += entry.estimate->minor.high;
        }
        if (entry.due) actual.minor += entry.due->minor;
    }
    if (lines < 2) return std::nullopt;
    return line_cells(QObject::tr("All costs"), estimated, short_amount(actual, accounts.currency), {},
                      accounts.currency, where);
}

}  // namespace

std::vector<FigureCells> entry_rows(const CaseAccounts& accounts, const casebook::CaseSnapshot& snapshot,
                                    const std::string& today, EstimatesIn where) {
    std::vector<AccountEntry> entries = accounts.entries;
    std::ranges::stable_sort(entries, {}, place_in_deal);
    std::vector<FigureCells> rows;
    const auto last_cost = std::ranges::find_if(entries.rbegin(), entries.rend(),
                                                [](const AccountEntry& e) { return e.kind == "cost_line"; });
    for (const AccountEntry& entry : entries) {
        FigureCells cells = line_cells(what_words(entry), entry.estimate, short_amount(entry.due, accounts.currency),
                                       open_words(entry, accounts.currency, today), accounts.currency, where);
        cells.opens = entry.record;
        cells.tone = is_overdue(entry, today) ? Tone::warning : Tone::plain;
        cells.tip = name_of(snapshot, entry.party);
        rows.push_back(std::move(cells));
        if (last_cost == entries.rend() || entry.record != last_cost->record) continue;
        if (auto all = all_costs_row(accounts, where)) rows.push_back(*std::move(all));
    }
    return rows;
}

QString sums_table(const CaseAccounts& accounts, const Outlook& outlook) {
    const Currency& here = accounts.currency;
    QString rows = table_row({QObject::tr("In all"), shown(here.code())}, "th");
    rows += two(QObject::tr("Paid out"), short_amount(accounts.paid_out, here));
    rows += two(QObject::tr("Paid in"), short_amount(accounts.paid_in, here));
    if (accounts.owed_by_us.minor != 0) rows += two(QObject::tr("We owe"), short_amount(accounts.owed_by_us, here));
    if (accounts.owed_to_us.minor != 0) rows += two(QObject::tr("Owed to us"), short_amount(accounts.owed_to_us, here));
    rows += deposits_row(accounts.deposits_held, here);
    if (accounts.sale) rows += vat_rows(*accounts.sale, here);
    rows += two(accounts.is_sold() ? QObject::tr("Result") : QObject::tr("Result so far, unsold"),
                short_amount(accounts.result, here));
    if (!accounts.is_sold() && outlook.row) rows += outlook_rows(*outlook.row, here);
    return table_of(rows);
}

QString shares_table(const CaseAccounts& accounts, const Outlook& outlook, const casebook::CaseSnapshot& snapshot) {
    if (accounts.shares.empty()) return {};
    const Currency& here = accounts.currency;
    QString rows = table_row(
        {QObject::tr("Who has a part"), accounts.is_sold() ? QObject::tr("gets") : QObject::tr("so far")}, "th");
    for (std::size_t i = 0; i < accounts.shares.size(); ++i) {
        const usecases::AccountsShare& share = accounts.shares[i];
        rows += part_rows(share_words(share, name_of(snapshot, share.party), here), share.part,
                          part_of(outlook.expected, i), part_of(outlook.worst, i), here);
    }
    return table_of(
        rows + part_rows(QObject::tr("Ours"), accounts.ours, ours_of(outlook.expected), ours_of(outlook.worst), here));
}

}  // namespace tedge::desk
