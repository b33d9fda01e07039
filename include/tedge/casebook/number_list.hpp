// Lists of numbers in a record: one reader for all of them.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "tedge/casebook/record.hpp"

namespace tedge::casebook {

// The list that stands at a path ("chart_fit/gains"); nothing where there is none, or where anything in it is no
// number.
[[nodiscard]] std::optional<std::vector<double>> numbers_at(const Body& body, std::string_view path);

}  // namespace tedge::casebook
