// What may stand on the screen while a client looks: decided by the field tables, in one place.
#pragma once

#include <string>

#include "tedge/casebook/field_table.hpp"
#include "tedge/casebook/record.hpp"

namespace tedge::desk {

// Money, names of people, and whatever no buyer may be given.
[[nodiscard]] bool hidden_from_client(const casebook::Field& field);
// A kind of which nothing may be seen: costs, ceilings, purchases …
[[nodiscard]] bool hidden_from_client(const casebook::Kind& kind);

// One line for a list: the record's telling fields, without what is hidden when a client looks.
[[nodiscard]] std::string headline(const casebook::Record& record, bool client_looks);

}  // namespace tedge::desk
