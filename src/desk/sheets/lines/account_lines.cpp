// Payment, share, commission, sale, return, question of law.
#include "sheets/lines/record_line.hpp"

namespace tedge::desk {

namespace {

RecordLine payment(const Telling& told) {
    const bool is_in = told.is("direction", "in");
    const QString way = !told.has("direction") ? QString() : is_in ? QObject::tr("received") : QObject::tr("paid");
    const QString sort = told.is("is", "payment") ? QString() : told("is");
    return {line({line({way, told("amount")}, QStringLiteral(" ")), sort, told("on"),
                  told.after(QObject::tr("for"), "settles"),
                  told.after(is_in ? QObject::tr("from") : QObject::tr("to"), "party"), told("method"),
                  told.after(QObject::tr("cleared"), "cleared_on")}),
            Tone::plain};
}

QString share(const Telling& told) {
    const QString bears = told.is("bears", "profit") ? QObject::tr("of a profit alone")
                          : told.has("bears")        ? QObject::tr("of profit and loss")
                                                     : QString();
    return line({told("party"), line({told.with_unit("percent"), bears}, QStringLiteral(" ")),
                 told.after(QObject::tr("agreed"), "agreed_on"),
                 told.has("agreement") ? told("agreement") : QObject::tr("no agreement in writing")});
}

QString commission(const Telling& told) {
    const QString part =
        told.has("amount")
            ? told("amount")
            : line({told.with_unit("percent"), told.after(QObject::tr("of the"), "percent_of")}, QStringLiteral(" "));
    return line({told("role"), told.after(QObject::tr("to"), "party"), part, told.after(QObject::tr("due"), "due_on")});
}

QString sale(const Telling& told) {
    const QString scheme = told.is("scheme", "none") ? QObject::tr("no VAT") : told("scheme");
    return line({told.after(QObject::tr("sold"), "sold_on"), told("price"), scheme,
                 told.after(QObject::tr("to"), "buyer"), told.after(QObject::tr("due"), "due_on"),
                 told.after(QObject::tr("delivered"), "delivered_on")});
}

QString going_back(const Telling& told) {
    return line({told.after(QObject::tr("returned"), "returned_on"), told.after(QObject::tr("refund"), "refund"),
                 told("reason")});
}

}  // namespace

bool account_line(const std::string& kind, const Telling& told, RecordLine& made) {
    if (kind == "payment") {
        made = payment(told);
    } else if (kind == "share") {
        made.text = share(told);
    } else if (kind == "commission") {
        made.text = commission(told);
    } else if (kind == "sale") {
        made = {sale(told), Tone::done};
    } else if (kind == "return") {
        made.text = going_back(told);
    } else if (kind == "duty") {
        made = {line({told("duty"), told("answer"), told("on"), told("text"), told("document")}),
                told.is("answer", "open") ? Tone::warning : Tone::plain};
    } else {
        return false;
    }
    return true;
}

}  // namespace tedge::desk
