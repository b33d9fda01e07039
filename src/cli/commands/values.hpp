// Fields of a record as a command line gives them.
#pragma once

#include <string_view>

#include "tedge/casebook/record.hpp"

namespace tedge::cli {

// {"agent": "acetone 30, isooctane 70", "seconds": 30}: fields as they stand in records; null takes a field away.
// Errors: usage.not-values.
[[nodiscard]] Expected<casebook::FieldValues> parse_values(std::string_view text);

}  // namespace tedge::cli
