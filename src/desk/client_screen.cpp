#include "client_screen.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "tedge/base/number_text.hpp"

namespace tedge::desk {

using casebook::Field;
using casebook::FieldType;
using casebook::Kind;
using casebook::Reader;

namespace {

constexpr std::size_t fields_in_a_headline = 4;

std::string short_text(const casebook::Record& record, const Field& field) {
    switch (field.type) {
        case FieldType::text:
        case FieldType::long_text:
        case FieldType::word:
        case FieldType::date:
        case FieldType::edtf:
            return record.body.text_or(field.name);
        case FieldType::money: {
            const auto money = record.body.money(field.name);
            return money ? to_display_text(*money) : std::string();
        }
        case FieldType::money_estimate: {
            const auto estimate = record.body.money_estimate(field.name);
            return estimate ? to_display_text({estimate->minor.likely, estimate->currency}) + " likely" : std::string();
        }
        default:
            return {};
    }
}

}  // namespace

bool hidden_from_client(const Field& field) {
    const bool is_money = field.type == FieldType::money || field.type == FieldType::money_estimate;
    return is_money || field.personal || !field.readers.contains(Reader::buyer);
}

bool hidden_from_client(const Kind& kind) {
    return std::ranges::all_of(kind.fields, [](const Field& field) { return hidden_from_client(field); });
}

std::string headline(const casebook::Record& record, bool client_looks) {
    const Kind* kind = casebook::find_kind(record.kind);
    if (kind == nullptr) return record.kind;
    std::string line;
    std::size_t shown = 0;
    for (const Field& field : kind->fields) {
        if (client_looks && hidden_from_client(field)) continue;
        const std::string text = short_text(record, field);
        if (text.empty()) continue;
        line += (line.empty() ? "" : " · ") + text;
        if (++shown == fields_in_a_headline) break;
    }
    return line.empty() ? std::string(kind->label) : line;
}

}  // namespace tedge::desk
