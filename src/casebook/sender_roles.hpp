// What somebody outside the house may do to a record: asked of every change that comes with a sender's role.
#pragma once

#include <functional>
#include <optional>

#include "tedge/casebook/change.hpp"
#include "tedge/casebook/field_table.hpp"

namespace tedge::casebook {

using ChangeById = std::function<std::optional<Change>(const Uuid&)>;

// Who may not be given a field may not write it either. Deleting and restoring touch every field of a kind; settling a
// conflict touches what the named changes did (`change_of` finds them). Only the house erases.
[[nodiscard]] bool may_make(const Change& change, Reader sender, const ChangeById& change_of);

}  // namespace tedge::casebook
