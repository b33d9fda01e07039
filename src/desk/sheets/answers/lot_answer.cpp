#include <nlohmann/json.hpp>

#include "forms/band_text.hpp"
#include "forms/local_time.hpp"
#include "sheets/answers/answer.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

void add_sale(AnswerLines& lines, const casebook::Body& lot) {
    lines.push_back(
        {QObject::tr("%1, lot %2")
             .arg(shown(lot.text_or("saleroom", "saleroom not named")), shown(lot.text_or("lot_number", "?")))});
    if (lot.has("sale_at")) {
        const QString when = local_text_with_zone(lot.text_or("sale_at"), shown(lot.text_or("sale_zone")));
        lines.push_back({QObject::tr("Sale %1").arg(when)});
    }
    if (lot.has("terms") && lot.as_json().at("terms").is_object()) {
        const auto& terms = lot.as_json().at("terms");
        const QString premium = bands_in_words(terms.value("premium", nlohmann::json()));
        if (!premium.isEmpty()) lines.push_back({QObject::tr("Premium %1").arg(premium)});
    }
    const auto low = lot.money("estimate_low");
    const auto high = lot.money("estimate_high");
    if (low && high) {
        lines.push_back(
            {QObject::tr("Estimate %1 to %2").arg(shown(to_display_text(*low)), shown(to_display_text(*high)))});
    }
    if (!lot.has("terms_read"))
        lines.push_back({QObject::tr("△ The terms of this sale are not marked as read."), Tone::warning});
}

}  // namespace

AnswerLines lot_answer(const casebook::CaseSnapshot& snapshot, bool client_looks) {
    const auto lots = snapshot.of_kind("lot");
    if (lots.empty()) return {{QObject::tr("No lot is recorded: how did the picture come here?")}};
    const casebook::Body& lot = lots.back()->body;
    AnswerLines lines{
        {shown(lot.text_or("catalogue_attribution", lot.text_or("catalogue_text", "catalogued without words")))}};
    if (!client_looks) add_sale(lines, lot);
    return lines;
}

}  // namespace tedge::desk
