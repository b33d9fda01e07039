// Lot, viewing, purchase, deadline, ceiling, cost, custody.
#include "sheets/lines/record_line.hpp"

namespace tedge::desk {

namespace {

QString lot(const Telling& told) {
    return line({line({told("saleroom"), told.after(QObject::tr("lot"), "lot_number")}, QStringLiteral(", ")),
                 told("catalogue_attribution"), told("sale_at"), told("result"),
                 told.after(QObject::tr("hammer"), "hammer")});
}

QString purchase(const Telling& told) {
    return line({told.after(QObject::tr("bought"), "bought_on"), told.after(QObject::tr("hammer"), "hammer"),
                 told.after(QObject::tr("all-in"), "all_in"), told.after(QObject::tr("paid"), "paid_on"),
                 told.after(QObject::tr("return window ends"), "return_window_ends")});
}

QString cost(const Telling& told) {
    return line({told("name"), told.has("actual") ? told("actual") : told("estimate"),
                 told.after(QObject::tr("paid"), "paid_on"), told.after(QObject::tr("to"), "payee")});
}

QString custody(const Telling& told) {
    return line(
        {told("place"), told.after(QObject::tr("held by"), "holder"),
         line({told.after(QObject::tr("since"), "from"), told.after(QObject::tr("until"), "to")}, QStringLiteral(" ")),
         told.after(QObject::tr("insured by"), "insured_by"), told("insured_value")});
}

QString quality(const Telling& told) {
    return line({told("passage"), told.after(QObject::tr("handling"), "handling"),
                 told.after(QObject::tr("drawing"), "drawing"), told.after(QObject::tr("legible"), "legible"),
                 told.after(QObject::tr("guessed:"), "guessed"), told.after(QObject::tr("by"), "eye")});
}

QString comparable(const Telling& told) {
    return line({told("work"), told("artist"), told("wording"), told("price"), told("price_is"), told("sold_on"),
                 told.is("unsold", "yes") ? QObject::tr("did not sell") : QString(),
                 told.after(QObject::tr("for"), "outcome")});
}

}  // namespace

bool money_line(const std::string& kind, const Telling& told, RecordLine& made) {
    if (kind == "lot") {
        made.text = lot(told);
    } else if (kind == "viewing_note") {
        made.text = line({told("viewed_on"), told("viewer"), told("answers"), told("text")});
    } else if (kind == "quality_note") {
        made.text = quality(told);
    } else if (kind == "comparable") {
        made.text = comparable(told);
    } else if (kind == "purchase") {
        made.text = purchase(told);
    } else if (kind == "deadline") {
        const bool done = told.has("done_on");
        made = {line({told("on"), told("what"), told.after(QObject::tr("done"), "done_on")}),
                done ? Tone::done : Tone::plain};
    } else if (kind == "ceiling") {
        made = {line({told.after(QObject::tr("limit"), "limit"), told.after(QObject::tr("fixed"), "fixed_at"),
                      told("note")}),
                Tone::done};
    } else if (kind == "cost_line") {
        made.text = cost(told);
    } else if (kind == "custody") {
        made.text = custody(told);
    } else {
        return false;
    }
    return true;
}

}  // namespace tedge::desk
