// Looks in a text that is to leave the house for what its reader may not be given, by the allow list of the field
// tables: private names, notes, and internal amounts in the ways people and programs write them.
#pragma once

#include <string>
#include <vector>

#include "tedge/casebook/field_table.hpp"
#include "tedge/casebook/snapshot.hpp"

namespace tedge::casebook {

// "\"Private note\" (picture)", "\"Name\" (person)": label and kind of each field found there, each once.
[[nodiscard]] std::vector<std::string> leaks_in(std::string_view leaving_text, const CaseSnapshot& snapshot,
                                                Reader reader);

}  // namespace tedge::casebook
