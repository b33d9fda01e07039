// Which records stand on which sheet.
#pragma once

#include <string_view>
#include <vector>

#include "tedge/usecases/cases.hpp"

namespace tedge::desk {

// The kinds of record that a sheet holds, in the order of the work.
[[nodiscard]] std::vector<std::string_view> kinds_of(usecases::Stage stage);
// Those among them that a person begins; photographs come by the intake, others are outcomes the program writes.
[[nodiscard]] std::vector<std::string_view> begun_by_hand(usecases::Stage stage);

}  // namespace tedge::desk
