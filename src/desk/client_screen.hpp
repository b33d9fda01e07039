// What may stand on the screen while a client looks: decided by the field tables, in one place.
#pragma once

#include "tedge/casebook/field_table.hpp"

namespace tedge::desk {

// Money, names of people, and whatever no buyer may be given.
[[nodiscard]] bool hidden_from_client(const casebook::Field& field);
// A kind of which nothing may be seen: costs, ceilings, purchases …
[[nodiscard]] bool hidden_from_client(const casebook::Kind& kind);

}  // namespace tedge::desk
