// What was written into a field before, to be taken again by one touch.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "tedge/casebook/snapshot.hpp"

namespace tedge::usecases {

// Texts of that field in the case's records of that kind, each once, the newest first; at most `limit`.
[[nodiscard]] std::vector<std::string> used_before(const casebook::CaseSnapshot& snapshot, std::string_view kind,
                                                   std::string_view field, std::size_t limit);

}  // namespace tedge::usecases
