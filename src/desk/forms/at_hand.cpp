#include "forms/at_hand.hpp"

#include <QObject>

#include <algorithm>
#include <array>

#include "tedge/usecases/used_before.hpp"
#include "text.hpp"

namespace tedge::desk {

using casebook::Field;
using casebook::FieldType;

namespace {

constexpr std::size_t most_offers = 5;

// Kinds that are written many times at the bench, with words that come again.
bool repeats_words(std::string_view kind) {
    constexpr std::array kinds{"trial", "finding", "facing", "treatment_step", "structure_step", "measurement"};
    return std::ranges::find(kinds, kind) != kinds.end();
}

// Plain words of the trade, common practice.
QStringList common_words(std::string_view kind, std::string_view field) {
    if (kind == "trial" && field == "swab_colour")
        return {QStringLiteral("none"), QStringLiteral("grey"), QStringLiteral("yellow"), QStringLiteral("brown"),
                QStringLiteral("colour of the passage")};
    if (kind == "trial" && field == "application")
        return {QStringLiteral("swab"), QStringLiteral("swab rolled"), QStringLiteral("gel")};
    if (kind == "trial" && field == "passage")
        return {QStringLiteral("sky"), QStringLiteral("light flesh"), QStringLiteral("foliage"),
                QStringLiteral("dark ground")};
    if (kind == "finding" && field == "term")
        return {QStringLiteral("flaking"), QStringLiteral("loss"), QStringLiteral("cupping"), QStringLiteral("tear"),
                QStringLiteral("abrasion")};
    return {};
}

// Behind the last owner that is recorded.
QString next_order(const FormContext& context) {
    double last = 0;
    for (const casebook::Record* link : context.snapshot.of_kind("provenance_link"))
        last = std::max(last, link->body.number("order").value_or(0));
    return QString::number(static_cast<int>(last) + 1);
}

QString length_example(std::string_view field) {
    if (field == "rebate_depth_mm") return QObject::tr("12, 1.2 cm, 1/2 in");
    if (field == "outer_depth_mm") return QObject::tr("65, 6.5 cm, 2 1/2 in");
    return QObject::tr("812, 81.2 cm, 32 1/4 in");
}

}  // namespace

std::vector<std::string_view> asked_first(std::string_view kind) {
    if (kind == "trial")
        return {"passage", "layer", "agent", "swab_colour", "swab_answer", "verdict", "removal", "done_on"};
    if (kind == "finding") return {"term", "layer", "severity", "unstable", "text"};
    if (kind == "treatment_step" || kind == "structure_step")
        return {"act", "materials", "text", "planned", "done_on", "done_by", "owner_agreed", "alternatives"};
    if (kind == "lot")
        return {"saleroom",
                "sale",
                "lot_number",
                "sale_at",
                "sale_zone",
                "catalogue_text",
                "catalogue_attribution",
                "glossary",
                "catalogue_seen_on",
                "catalogue_page",
                "estimate_low",
                "estimate_high",
                "terms_read",
                "notice",
                "result",
                "hammer"};
    if (kind == "cost_line") return {"name", "estimate", "actual", "paid_on", "payee", "note"};
    if (kind == "payment")
        return {"direction", "amount", "on", "settles", "is", "party", "method", "reference", "note"};
    if (kind == "sale")
        return {"sold_on", "price", "scheme", "buyer", "buyer_is", "concluded", "invoice_number", "due_on", "note"};
    if (kind == "commission") return {"party", "role", "amount", "percent", "percent_of", "due_on", "note"};
    if (kind == "return") return {"of", "returned_on", "refund", "reason"};
    return {};
}

QString name_of_the_others(std::string_view kind) {
    return kind == "lot" ? QObject::tr("&Terms of the sale") : QObject::tr("&More fields");
}

bool lies_ahead(std::string_view kind, std::string_view field) {
    return (kind == "document" && field == "destroy_after") || (kind == "deadline" && field == "on") ||
           (kind == "purchase" && field == "return_window_ends") || field == "due_on";
}

QString example_of(const Field& field) {
    switch (field.type) {
        case FieldType::date:
            return QObject::tr("31 March 2026");
        case FieldType::edtf:
            return QObject::tr("1650~, 1672/1680, 18XX");
        case FieldType::instant:
            return QObject::tr("5 March 2026 14:30");
        case FieldType::zone:
            return QObject::tr("Europe/London");
        case FieldType::values:
            return QObject::tr("25 to 50000; 20 to 1000000; 14.5");
        case FieldType::number:
            return field.unit == "mm" ? length_example(field.name) : QString();
        default:
            return {};
    }
}

QStringList offered_for(const Field& field, const FormContext& context) {
    if (field.type == FieldType::date) {
        const bool is_ahead = context.kind != nullptr && lies_ahead(context.kind->name, field.name);
        return is_ahead ? QStringList() : QStringList{QObject::tr("today")};
    }
    if (field.type == FieldType::zone)
        return {QStringLiteral("Europe/London"), QStringLiteral("Europe/Paris"), QStringLiteral("America/New_York")};
    if (field.name == "order") return {next_order(context)};
    if (field.type != FieldType::text || context.kind == nullptr || !repeats_words(context.kind->name)) return {};
    QStringList offers;
    for (const std::string& text :
         usecases::used_before(context.snapshot, context.kind->name, field.name, most_offers)) {
        offers << shown(text);
    }
    for (const QString& word : common_words(context.kind->name, field.name)) {
        if (offers.size() < static_cast<qsizetype>(most_offers) && !offers.contains(word)) offers << word;
    }
    return offers;
}

}  // namespace tedge::desk
