// Figures of a difference map as fields and as a line.
#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "tedge/imaging/colour_difference.hpp"

namespace tedge::cli {

// mean, p50, p95, max; p05 and min as well, for maps with a sign.
[[nodiscard]] nlohmann::json statistics_fields(const imaging::DifferenceStatistics& figures);

// "ΔL* mean 1.20, median 1.10, 5 % below -0.40, 95 % below 4.00, from -2.00 to 9.10", no full stop.
[[nodiscard]] std::string statistics_line(imaging::DifferenceKind kind, const imaging::DifferenceStatistics& figures);

// What every sheet of a comparison says of the pair.
[[nodiscard]] std::string laid_line(double error_mm);

}  // namespace tedge::cli
