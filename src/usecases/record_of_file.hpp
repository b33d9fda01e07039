// Which record keeps a stored file: told by the file's content.
#pragma once

#include <string_view>
#include <vector>

#include "tedge/casebook/record.hpp"

namespace tedge::usecases {

// The first one whose field "sha256" names it; nullptr where none does.
[[nodiscard]] const casebook::Record* record_of_file(const std::vector<casebook::Record>& records,
                                                     std::string_view sha256);

}  // namespace tedge::usecases
