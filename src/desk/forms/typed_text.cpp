// From values to the text of their entries.
#include <algorithm>
#include <nlohmann/json.hpp>

#include "forms/band_text.hpp"
#include "forms/local_time.hpp"
#include "forms/typed_value.hpp"
#include "tedge/base/length.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/casebook/raking.hpp"
#include "text.hpp"

namespace tedge::desk {

using casebook::Body;
using casebook::Field;
using casebook::FieldType;

namespace {

QString estimate_text(const Body::MoneyEstimate& estimate) {
    const auto part = [&](std::int64_t minor) { return shown(to_decimal_text({minor, estimate.currency})); };
    const QString code = shown(estimate.currency.code());
    if (estimate.minor.is_certain()) return part(estimate.minor.likely) + QLatin1Char(' ') + code;
    return QStringLiteral("%1 – %2 – %3 %4")
        .arg(part(estimate.minor.low), part(estimate.minor.likely), part(estimate.minor.high), code);
}

// What stands at a path of two steps, or null.
nlohmann::json part_of(const Body& body, const std::string& path) {
    const auto& fields = body.as_json();
    const std::size_t slash = path.find('/');
    const std::string map = path.substr(0, slash);
    if (slash == std::string::npos || !fields.contains(map) || !fields[map].is_object()) return {};
    return fields[map].value(path.substr(slash + 1), nlohmann::json());
}

QString record_text(const Field& field, const Body& body, const FormContext& context) {
    const auto id = body.record(field.name);
    if (!id) return {};
    if (field.of != "person") return shown(to_text(*id));
    const casebook::Record* person = context.snapshot.find(*id);
    return person != nullptr ? shown(person->body.text_or("name")) : QString();
}

}  // namespace

bool is_typed(const Field& field, const casebook::Kind& kind) {
    switch (field.type) {
        case FieldType::sha256:
            return kind.name == "document";
        case FieldType::region:
        case FieldType::placement:
        case FieldType::values:
            return false;
        case FieldType::record:
            // The program itself joins photographs, frames and lots; everywhere else a person says which is meant.
            return field.of == "person" || field.of == "photograph" || field.of == "document" ||
                   kind.name == "payment" || kind.name == "return" ||
                   (field.of == "face_frame" && kind.name != "photograph" && kind.name != "face_frame");
        default:
            return true;
    }
}

QString typed_text(const Field& field, const Body& body, const FormContext& context) {
    if (!body.has(field.name)) return {};
    switch (field.type) {
        case FieldType::number: {
            const auto number = body.number(field.name);
            return number ? shown(format_number(*number)) : QString();
        }
        case FieldType::integer: {
            const auto number = body.integer(field.name);
            return number ? QString::number(*number) : QString();
        }
        case FieldType::flag:
            return body.flag(field.name) ? QStringLiteral("yes") : QStringLiteral("no");
        case FieldType::money: {
            const auto money = body.money(field.name);
            return money ? shown(to_decimal_text(*money) + " " + std::string(money->currency.code())) : QString();
        }
        case FieldType::money_estimate: {
            const auto estimate = body.money_estimate(field.name);
            return estimate ? estimate_text(*estimate) : QString();
        }
        case FieldType::date:
            return day_text(body.text_or(field.name));
        case FieldType::instant:
            return local_text(body.text_or(field.name), zone_in(body, context.kind));
        case FieldType::record:
            return record_text(field, body, context);
        case FieldType::values: {
            const std::string path(field.name);
            if (field.unit == "bands") return bands_text(part_of(body, path));
            return answer_text({shown(body.text_or(path + "/answer")), shown(body.text_or(path + "/note"))});
        }
        default:
            return shown(body.text_or(field.name));
    }
}

Answered parts_of_answer(const QString& text) {
    const qsizetype colon = text.indexOf(QLatin1Char(':'));
    if (colon < 0) return {text.trimmed(), {}};
    return {text.left(colon).trimmed(), text.mid(colon + 1).trimmed()};
}

QString answer_text(const Answered& answered) {
    return answered.remark.isEmpty() ? answered.word : answered.word + QStringLiteral(": ") + answered.remark;
}

QStringList parts_of_amount(const QString& text) {
    QString figures = text.trimmed();
    QString currency;
    const qsizetype blank = figures.lastIndexOf(QLatin1Char(' '));
    const QString last = figures.mid(blank + 1);
    const bool is_code = last.size() == 3 && std::ranges::all_of(last, [](QChar c) { return c.isLetter(); });
    if (is_code) {
        currency = last.toUpper();
        figures = figures.left(std::max<qsizetype>(blank, 0));
    }
    QStringList parts;
    for (const QString& part : figures.split(QStringLiteral("–"))) parts << part.trimmed();
    return parts << currency;
}

namespace {

// "Purchase, 3 March 2026", "cost: lining", "lot 12": what it is, and what it is known by.
QString known_by(const casebook::Record& record) {
    const casebook::Kind* kind = casebook::find_kind(record.kind);
    const QString label = capital(shown(kind != nullptr ? kind->label : record.kind));
    if (record.body.has("lot_number")) return label + QLatin1Char(' ') + shown(record.body.text_or("lot_number"));
    for (const char* field : {"name", "title", "role", "what", "sort"})
        if (record.body.has(field)) return label + QStringLiteral(": ") + spoken(record.body.text_or(field));
    if (const auto percent = record.body.number("percent"))
        return QStringLiteral("%1, %2 %").arg(label, shown(format_number(*percent)));
    for (const char* field : {"bought_on", "sold_on", "returned_on", "on", "dated", "done_on"})
        if (record.body.has(field)) return label + QStringLiteral(", ") + day_text(record.body.text_or(field));
    return label;
}

}  // namespace

QString choice_text(const casebook::Record& record) {
    if (record.kind != "face_frame" && record.kind != "photograph") return known_by(record);
    const Body& body = record.body;
    QString text = capital(spoken(body.text_or("face")));
    if (record.kind == "face_frame") {
        const auto width = body.number("width_mm");
        const auto height = body.number("height_mm");
        if (width && height) text += QStringLiteral(", ") + shown(format_size_height_first(*height, *width));
        if (body.has("epoch_why")) text += QStringLiteral(", ") + shown(body.text_or("epoch_why"));
        return text;
    }
    text += QStringLiteral(", %1, %2").arg(shown(casebook::light_in_words(body)), spoken(body.text_or("stage")));
    return body.has("caption") ? text + QStringLiteral(": ") + shown(body.text_or("caption")) : text;
}

}  // namespace tedge::desk
