// Published tolerances beside a figure, as fields.
#pragma once

#include <nlohmann/json.hpp>
#include <vector>

#include "tedge/imaging/capture_tolerances.hpp"

namespace tedge::cli {

[[nodiscard]] nlohmann::json tolerance_fields(const std::vector<imaging::ToleranceLine>& lines);

}  // namespace tedge::cli
