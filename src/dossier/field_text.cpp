#include "field_text.hpp"

#include <algorithm>

#include "tedge/base/clock.hpp"
#include "tedge/base/money.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/casebook/raking.hpp"
#include "tedge/provenance/date_words.hpp"

namespace tedge::dossier {

using casebook::Field;
using casebook::FieldType;
using casebook::Kind;
using casebook::Reader;
using casebook::Record;

namespace {

std::string with_unit(std::string number, const Field& field) {
    if (!field.unit.empty()) number += " " + std::string(field.unit);
    return number;
}

std::string estimate_text(const casebook::Body::MoneyEstimate& estimate) {
    const std::string low = to_display_text(Money{estimate.minor.low, estimate.currency});
    if (estimate.minor.is_certain()) return low;
    return low + " to " + to_display_text(Money{estimate.minor.high, estimate.currency}) + ", likely " +
           to_display_text(Money{estimate.minor.likely, estimate.currency});
}

std::string record_text(const Extract& extract, const Record& record, std::string_view field) {
    const auto id = record.body.record(field);
    const Record* named = id ? extract.find(*id) : nullptr;
    return named == nullptr ? "" : name_of(extract, *named);
}

std::string instant_text(const std::string& text) {
    const auto instant = parse_instant(text);
    return instant ? provenance::words_for_day(text.substr(0, 10)) + ", " + to_text(*instant).substr(11, 5) + " UTC"
                   : text;
}

}  // namespace

std::string value_text(const Extract& extract, const Record& record, std::string_view name) {
    const Kind* kind = casebook::find_kind(record.kind);
    const Field* field = kind == nullptr ? nullptr : kind->field(name);
    if (field == nullptr || !record.body.has(name)) return {};
    const auto& body = record.body;
    switch (field->type) {
        case FieldType::text:
        case FieldType::long_text:
        case FieldType::zone:
            return body.text_or(name);
        case FieldType::number: {
            const auto number = body.number(name);
            return number ? with_unit(format_number(*number), *field) : "";
        }
        case FieldType::integer: {
            const auto integer = body.integer(name);
            return integer ? with_unit(std::to_string(*integer), *field) : "";
        }
        case FieldType::flag:
            return body.flag(name) ? "yes" : "no";
        case FieldType::word:
            return word_text(body.text_or(name));
        case FieldType::money: {
            const auto money = body.money(name);
            return money ? to_display_text(*money) : "";
        }
        case FieldType::money_estimate: {
            const auto estimate = body.money_estimate(name);
            return estimate ? estimate_text(*estimate) : "";
        }
        case FieldType::date:
            return provenance::words_for_day(body.text_or(name));
        case FieldType::edtf:
            return edtf_words(body.text_or(name));
        case FieldType::instant:
            return instant_text(body.text_or(name));
        case FieldType::record:
            return record_text(extract, record, name);
        case FieldType::sha256:
        case FieldType::region:
        case FieldType::placement:
        case FieldType::values:
            return {};
    }
    return {};
}

std::vector<std::pair<std::string, std::string>> labelled_values(const Extract& extract, const Record& record,
                                                                 const std::vector<std::string_view>& left_out) {
    std::vector<std::pair<std::string, std::string>> rows;
    const Kind* kind = casebook::find_kind(record.kind);
    if (kind == nullptr) return rows;
    for (const Field& field : kind->fields) {
        if (std::ranges::find(left_out, field.name) != left_out.end()) continue;
        std::string text = value_text(extract, record, field.name);
        if (!text.empty()) rows.emplace_back(std::string(field.label), std::move(text));
    }
    return rows;
}

std::string name_of(const Extract& extract, const Record& record) {
    const auto& body = record.body;
    if (record.kind == "person") return body.text_or("name");
    if (record.kind == "face_frame") return word_text(body.text_or("face"));
    if (record.kind == "photograph")
        return word_text(body.text_or("face")) + ", " + casebook::light_in_words(body) + ", " +
               word_text(body.text_or("stage"));
    for (const std::string_view name : {"title", "name", "term", "act"}) {
        std::string text = value_text(extract, record, name);
        if (!text.empty()) return text;
    }
    const Kind* kind = casebook::find_kind(record.kind);
    return kind == nullptr ? record.kind : std::string(kind->label);
}

std::string edtf_words(std::string_view edtf) {
    const auto parsed = provenance::parse_edtf(edtf);
    return parsed ? provenance::words_for(*parsed) : std::string(edtf);
}

std::string word_text(std::string_view word) {
    // "edge-top" is the top edge.
    if (word.starts_with("edge-")) return std::string(word.substr(5)) + " edge";
    if (word.starts_with("frame-")) return std::string(word.substr(6)) + " of the frame";
    std::string text(word);
    std::ranges::replace(text, '-', ' ');
    return text;
}

std::string sentence_case(std::string_view text) {
    std::string out(text);
    if (!out.empty() && out[0] >= 'a' && out[0] <= 'z') out[0] = static_cast<char>(out[0] - 'a' + 'A');
    return out;
}

std::string reader_words(Reader reader) {
    if (reader == Reader::own) return "Own file, not for others";
    return "Dossier for the " + std::string(casebook::to_text(reader));
}

}  // namespace tedge::dossier
