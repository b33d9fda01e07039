#include "accounts/amount_words.hpp"

#include <QObject>

#include "text.hpp"

namespace tedge::desk {

QString short_amount(const Money& amount, const Currency& accounts) {
    QString text = shown(to_display_text(amount));
    if (amount.currency == accounts) text.remove(0, text.indexOf(QLatin1Char(' ')) + 1);
    const qsizetype point = text.lastIndexOf(QLatin1Char('.'));
    const bool is_round =
        point >= 0 && QStringView(text).mid(point + 1).count(QLatin1Char('0')) == text.size() - point - 1;
    if (is_round) text.truncate(point);
    return text;
}

QString short_amount(const std::optional<Money>& amount, const Currency& accounts) {
    return amount ? short_amount(*amount, accounts) : QStringLiteral("–");
}

QString short_estimate(const casebook::Body::MoneyEstimate& estimate, const Currency& accounts) {
    const auto part = [&](std::int64_t minor) { return short_amount(Money{minor, estimate.currency}, accounts); };
    if (estimate.minor.is_certain()) return part(estimate.minor.likely);
    QString high = part(estimate.minor.high);
    if (estimate.currency != accounts) high.remove(0, high.indexOf(QLatin1Char(' ')) + 1);  // said once
    return QStringLiteral("%1–%2").arg(part(estimate.minor.low), high);
}

}  // namespace tedge::desk
