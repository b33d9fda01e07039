#include "sheets/lines/record_line.hpp"

#include <algorithm>

#include "client_screen.hpp"
#include "forms/local_time.hpp"
#include "forms/place_row.hpp"
#include "forms/typed_value.hpp"
#include "sheets/where_words.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/casebook/findings.hpp"
#include "text.hpp"

namespace tedge::desk {

using casebook::Body;
using casebook::Field;
using casebook::FieldType;
using casebook::Record;

namespace {

constexpr qsizetype fields_in_a_line = 4;
constexpr qsizetype letters_of_a_paragraph = 90;
constexpr std::size_t longest_typed_number = 7;

QString estimate_text(const Body::MoneyEstimate& estimate) {
    const auto part = [&](std::int64_t minor) { return shown(to_display_text({minor, estimate.currency})); };
    if (estimate.minor.is_certain()) return part(estimate.minor.likely);
    return QObject::tr("%1 likely (%2 to %3)")
        .arg(part(estimate.minor.likely), part(estimate.minor.low), part(estimate.minor.high));
}

// The first words of a paragraph.
QString shortened(QString text) {
    text = text.simplified();
    if (text.size() <= letters_of_a_paragraph) return text;
    text.truncate(text.lastIndexOf(QLatin1Char(' '), letters_of_a_paragraph));
    return text + QStringLiteral(" …");
}

// As it was typed; what was computed to sixteen digits is told to two decimals.
QString number_text(double value) {
    const std::string whole = format_number(value);
    return shown(whole.size() <= longest_typed_number ? whole : format_fixed(value, 2));
}

// The keys of a map: first what is asked, in the order in which it is asked, then what else stands there.
std::vector<std::string> keys_as_asked(const Field& field, const casebook::Kind& kind, const Body& body) {
    std::vector<std::string> keys = body.keys(field.name);
    const auto parts = casebook::parts_asked(kind.name, field.name);
    std::ranges::stable_sort(keys, {}, [&](const std::string& key) {
        return std::ranges::find(parts, std::string(field.name) + "/" + key, &Field::name) - parts.begin();
    });
    return keys;
}

// Of a map of answers: "lined: no", "loose paint: yes, lower left". Other maps are told by the sheet they belong to.
QString answers_text(const Field& field, const casebook::Kind& kind, const Body& body) {
    QStringList parts;
    for (const std::string& question : keys_as_asked(field, kind, body)) {
        const std::string path = std::string(field.name) + "/" + question;
        const QString answer = spoken(body.text_or(path + "/answer"));
        if (answer.isEmpty()) continue;
        parts << line({spoken(question) + QStringLiteral(": ") + answer, shown(body.text_or(path + "/note"))},
                      QStringLiteral(", "));
    }
    return parts.join(QStringLiteral("; "));
}

QString value_text(const Field& field, const casebook::Kind& kind, const Body& body,
                   const casebook::CaseSnapshot& snapshot) {
    switch (field.type) {
        case FieldType::word:
            return spoken(body.text_or(field.name));
        case FieldType::long_text:
            return shortened(shown(body.text_or(field.name)));
        case FieldType::text:
        case FieldType::zone:
            return shown(body.text_or(field.name));
        case FieldType::number:
            return body.number(field.name) ? number_text(*body.number(field.name)) : QString();
        case FieldType::integer:
            return body.integer(field.name) ? QString::number(*body.integer(field.name)) : QString();
        case FieldType::date:
            return day_text(body.text_or(field.name));
        case FieldType::edtf:
            return body.has(field.name) ? date_words(body.text_or(field.name)) : QString();
        case FieldType::instant:
            return local_text_with_zone(body.text_or(field.name), zone_in(body, &kind));
        case FieldType::money:
            return body.money(field.name) ? shown(to_display_text(*body.money(field.name))) : QString();
        case FieldType::money_estimate:
            return body.money_estimate(field.name) ? estimate_text(*body.money_estimate(field.name)) : QString();
        case FieldType::record: {
            const auto id = body.record(field.name);
            const Record* named = id ? snapshot.find(*id) : nullptr;
            if (named == nullptr) return {};
            return named->kind == "person" ? shown(named->body.text_or("name")) : choice_text(*named);
        }
        case FieldType::values:
            return answers_text(field, kind, body);
        default:
            return {};
    }
}

RecordLine by_first_fields(const Telling& told) {
    QStringList parts;
    for (const Field& field : told.kind()->fields) {
        const QString text = told(field.name);
        if (!text.isEmpty() && parts.size() < fields_in_a_line) parts << text;
    }
    return {parts.isEmpty() ? capital(shown(told.kind()->label)) : line(parts)};
}

// Less is earlier in the list. ISO days and words compare as text; an empty day is not done yet.
struct Rank {
    const Record* record = nullptr;
    int urgency = 1;
    double order = 0;
    std::string day;
};

Rank rank_of(const Record& record, const casebook::CaseSnapshot& snapshot) {
    const Body& body = record.body;
    if (record.kind == "finding") {
        const std::string severity = body.text_or("severity");
        const bool loose = casebook::is_open_danger(snapshot, record);
        const int weight = severity == "severe" ? 0 : severity == "moderate" ? 1 : 2;
        return {&record, loose ? 0 : 1, static_cast<double>(weight), {}};
    }
    if (record.kind == "deadline") return {&record, body.has("done_on") ? 1 : 0, 0, {}};
    if (record.kind == "provenance_link") return {&record, 1, body.number("order").value_or(0), {}};
    const bool is_step = record.kind == "treatment_step" || record.kind == "structure_step";
    const bool is_planned = is_step && body.flag("planned");
    for (const char* field : {"done_on", "from", "surveyed_on", "laid_on", "viewed_on", "bought_on", "sold_on",
                              "returned_on", "on", "dated"}) {
        if (body.has(field)) return {&record, is_planned ? 0 : 1, 0, body.text_or(field)};
    }
    return {&record, is_planned ? 0 : 1, 0, {}};
}

bool comes_before(const Rank& one, const Rank& other) {
    const Record& a = *one.record;
    const Record& b = *other.record;
    if (one.urgency != other.urgency) return one.urgency < other.urgency;
    if (one.order != other.order) return one.order < other.order;  // NOLINT: the very numbers that were written
    if (a.kind == "deadline") return a.body.text_or("on") < b.body.text_or("on");
    if (one.day != other.day) return one.day > other.day;
    if (a.kind == "provenance_link") return a.first_written < b.first_written;
    return std::pair(a.first_written, a.id) > std::pair(b.first_written, b.id);
}

}  // namespace

const Field* Telling::seen(std::string_view field) const {
    const Field* found = kind_ != nullptr ? kind_->field(field) : nullptr;
    return found == nullptr || (client_looks_ && hidden_from_client(*found)) ? nullptr : found;
}

QString Telling::operator()(std::string_view field) const {
    const Field* found = seen(field);
    return found != nullptr ? value_text(*found, *kind_, record_.body, snapshot_) : QString();
}

QString Telling::with_unit(std::string_view field) const {
    const QString text = (*this)(field);
    return text.isEmpty() ? text : text + QLatin1Char(' ') + shown(seen(field)->unit);
}

QString Telling::after(const QString& label, std::string_view field) const {
    const QString text = (*this)(field);
    return text.isEmpty() ? text : label + QLatin1Char(' ') + text;
}

bool Telling::is_open_danger() const {
    return casebook::is_open_danger(snapshot_, record_);
}

QString Telling::consolidated() const {
    const QString day = day_text(casebook::consolidated_on(snapshot_, record_));
    return day.isEmpty() ? day : QObject::tr("consolidated %1").arg(day);
}

bool Telling::has(std::string_view field) const {
    return seen(field) != nullptr && record_.body.has(field);
}

bool Telling::is(std::string_view field, std::string_view word) const {
    if (!has(field)) return false;
    return word == "yes" && seen(field)->type == FieldType::flag ? record_.body.flag(field)
                                                                 : record_.body.text_or(field) == word;
}

QString Telling::where() const {
    return seen("region") != nullptr || seen("face_frame") != nullptr ? where_words(record_, snapshot_) : QString();
}

QString Telling::size() const {
    const auto region = seen("region") != nullptr ? record_.body.region("region") : std::nullopt;
    return region && !region->empty() ? size_text(*region) : QString();
}

QString line(const QStringList& parts, const QString& between) {
    QStringList told = parts;
    told.removeAll(QString());
    return told.join(between);
}

RecordLine line_of(const Record& record, const casebook::CaseSnapshot& snapshot, bool client_looks) {
    const Telling told(record, snapshot, client_looks);
    if (told.kind() == nullptr) return {QObject::tr("Written by a newer program.")};
    RecordLine made;
    if (!money_line(record.kind, told, made) && !account_line(record.kind, told, made) &&
        !survey_line(record.kind, told, made) && !work_line(record.kind, told, made) &&
        !research_line(record.kind, told, made)) {
        return by_first_fields(told);
    }
    if (made.text.isEmpty()) return by_first_fields(told);
    made.text = capital(made.text);
    return made;
}

std::vector<const Record*> in_order(std::string_view kind, const casebook::CaseSnapshot& snapshot) {
    std::vector<Rank> ranked;
    for (const Record* record : snapshot.of_kind(kind)) ranked.push_back(rank_of(*record, snapshot));
    std::ranges::sort(ranked, comes_before);
    std::vector<const Record*> records;
    for (const Rank& rank : ranked) records.push_back(rank.record);
    return records;
}

}  // namespace tedge::desk
