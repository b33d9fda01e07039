// What can still be read of a book whose file is damaged. Everything else of the casebook breaks off there.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "sqlite/connection.hpp"
#include "tedge/casebook/casebook.hpp"

namespace tedge::casebook {

// All changes, in the order of (replica, case, number, id); where the tables are damaged those that can be read, and a
// sentence in `faults` that says so.
[[nodiscard]] std::vector<Change> readable_changes(const sqlite::Connection& db, std::vector<std::string>& faults);
// As named_files(), from the changes where the records cannot be read.
[[nodiscard]] std::map<std::string, std::vector<Uuid>> readable_files(const sqlite::Connection& db,
                                                                      const std::vector<Change>& changes);

}  // namespace tedge::casebook
