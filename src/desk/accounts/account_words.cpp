#include "accounts/account_words.hpp"

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
    const QString what = capital(spoken(entry.what));
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

QString part_at(const std::optional<money::SharedResult>& divided, std::size_t i, const Currency& here) {
    return divided ? short_amount(divided->shares.at(i), here) : QStringLiteral("–");
}

QString share_words(const usecases::AccountsShare& share, const QString& name, const Currency& here) {
    QString text =
        QObject::tr("%1, %2 %").arg(name.isEmpty() ? QObject::tr("unnamed") : name, shown(share.percent.to_text()));
    if (share.paid_in.minor != 0) text += QObject::tr(", paid in %1").arg(short_amount(share.paid_in, here));
    if (share.paid_out.minor != 0) text += QObject::tr(", has had %1").arg(short_amount(share.paid_out, here));
    return text;
}

}  // namespace

std::vector<FigureCells> entry_rows(const CaseAccounts& accounts, const casebook::CaseSnapshot& snapshot,
                                    const std::string& today) {
    std::vector<FigureCells> rows;
    for (const AccountEntry& entry : accounts.entries) {
        const bool late = is_overdue(entry, today);
        rows.push_back({{what_words(entry),
                         entry.estimate ? short_estimate(*entry.estimate, accounts.currency) : QStringLiteral("–"),
                         short_amount(entry.due, accounts.currency), open_words(entry, accounts.currency, today)},
                        entry.record,
                        late ? Tone::warning : Tone::plain,
                        name_of(snapshot, entry.party)});
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
    const bool is_open = !accounts.is_sold();
    QStringList heads{QObject::tr("Who has a part"), is_open ? QObject::tr("so far") : QObject::tr("gets")};
    if (is_open) heads << QObject::tr("expected") << QObject::tr("at worst");
    QString rows = table_row(heads, "th");
    const auto add = [&](const QString& who, const Money& part, const QString& expected, const QString& worst) {
        QStringList cells{who, short_amount(part, here)};
        if (is_open) cells << expected << worst;
        rows += table_row(cells);
    };
    for (std::size_t i = 0; i < accounts.shares.size(); ++i) {
        const usecases::AccountsShare& share = accounts.shares[i];
        add(share_words(share, name_of(snapshot, share.party), here), share.part, part_at(outlook.expected, i, here),
            part_at(outlook.worst, i, here));
    }
    const auto ours = [&](const std::optional<money::SharedResult>& divided) {
        return divided ? short_amount(divided->ours, here) : QStringLiteral("–");
    };
    add(QObject::tr("Ours"), accounts.ours, ours(outlook.expected), ours(outlook.worst));
    return table_of(rows);
}

}  // namespace tedge::desk
