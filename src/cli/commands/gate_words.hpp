// How gates are told on the command line, and how it is said that one act is let pass.
#pragma once

#include <nlohmann/json.hpp>

#include "arguments.hpp"
#include "tedge/casebook/gates.hpp"
#include "tedge/usecases/records.hpp"

namespace tedge::cli {

[[nodiscard]] nlohmann::json gate_fields(const casebook::GateAnswer& answer);

// --override "8.unstable-paint,7.loose-paint" with --name and --reason: what one act is let pass by. Errors:
// usage.not-a-requirement.
[[nodiscard]] Expected<std::vector<usecases::Override>> overrides_of(const Arguments& arguments, const Uuid& case_id);

// The answers once these overrides were given with the act: what is overridden is no longer missing.
[[nodiscard]] std::vector<casebook::GateAnswer> without(std::vector<casebook::GateAnswer> answers,
                                                        const std::vector<usecases::Override>& overrides);

}  // namespace tedge::cli
