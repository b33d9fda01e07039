#include "client_screen.hpp"

#include <algorithm>

namespace tedge::desk {

using casebook::Field;
using casebook::FieldType;
using casebook::Kind;
using casebook::Reader;

bool hidden_from_client(const Field& field) {
    const bool is_money = field.type == FieldType::money || field.type == FieldType::money_estimate;
    return is_money || field.personal || !field.readers.contains(Reader::buyer);
}

bool hidden_from_client(const Kind& kind) {
    return std::ranges::all_of(kind.fields, [](const Field& field) { return hidden_from_client(field); });
}

}  // namespace tedge::desk
