#include "saleday/sale_words.hpp"

#include "forms/local_time.hpp"
#include "text.hpp"

namespace tedge::desk {

QString lot_head(const casebook::Record& lot) {
    const casebook::Body& body = lot.body;
    QStringList parts;
    parts << (body.has("lot_number") ? QObject::tr("Lot %1").arg(shown(body.text_or("lot_number")))
                                     : QObject::tr("The lot"));
    for (const char* field : {"saleroom", "sale"})
        if (body.has(field)) parts << shown(body.text_or(field));
    const QString head = parts.join(QStringLiteral(", "));
    if (!body.has("sale_at")) return head;
    return head + QStringLiteral("; ") +
           local_text_with_zone(body.text_or("sale_at"), shown(body.text_or("sale_zone")));
}

QString result_words(const std::string& result) {
    if (result == "not-bid") return QObject::tr("not bid for");
    return spoken(result);
}

QString expected_words(const money::Invoice& bill) {
    QStringList lines;
    for (const money::InvoiceLine& line : bill.lines)
        lines << shown(money::charge_name(line.charge)) + u' ' + shown(to_display_text(line.amount));
    return QObject::tr("By the terms: %1; all-in %2. The purchase price for the margin is %3.")
        .arg(lines.join(QStringLiteral(" + ")), shown(to_display_text(bill.total)),
             shown(to_display_text(bill.margin_price)));
}

RiskWords risk_words(const casebook::CaseSnapshot& snapshot, const usecases::RiskStanding& risk) {
    RiskWords words{shown(risk.said)};
    if (!risk.from) return words;
    for (const casebook::Record* custody : snapshot.of_kind("custody")) {
        if (!custody->body.has("insured_by")) continue;
        const auto value = custody->body.money("insured_value");
        words.said += QObject::tr(" Insured by %1%2.")
                          .arg(shown(custody->body.text_or("insured_by")),
                               value ? QObject::tr(" at %1").arg(shown(to_display_text(*value))) : QString());
        return words;
    }
    words.is_covered = false;
    words.said += QObject::tr(" Nobody is recorded who insures it since.");
    return words;
}

QString standing_words(const usecases::StandingDeadline& due) {
    if (due.done_on) return QObject::tr("● done %1").arg(day_text(to_text(*due.done_on)));
    if (due.days_left == 0) return QObject::tr("today");
    if (due.days_left == 1) return QObject::tr("tomorrow");
    if (due.days_left == -1) return due.is_sale ? QObject::tr("yesterday") : QObject::tr("△ overdue by 1 day");
    if (due.days_left > 0) return QObject::tr("in %1 days").arg(due.days_left);
    return (due.is_sale ? QObject::tr("%1 days ago") : QObject::tr("△ overdue by %1 days")).arg(-due.days_left);
}

QString when_words(const usecases::StandingDeadline& due) {
    const QString day = day_text(to_text(due.on));
    return due.at.empty() ? day : day + QStringLiteral(", ") + shown(due.at);
}

}  // namespace tedge::desk
