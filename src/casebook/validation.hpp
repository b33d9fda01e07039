// Do the values fit the field table? Asked before anything is written; what comes from elsewhere is only reported.
#pragma once

#include <nlohmann/json.hpp>

#include "tedge/base/error.hpp"
#include "tedge/casebook/field_table.hpp"
#include "tedge/casebook/record.hpp"

namespace tedge::casebook {

// Errors: casebook.bad-field with values.field and values.reason.
[[nodiscard]] Expected<void> check_values(const Kind& kind, const FieldValues& values);
// Errors: casebook.missing-field, for a body that is to stand on its own.
[[nodiscard]] Expected<void> check_required(const Kind& kind, const nlohmann::json& public_body,
                                            const nlohmann::json& personal_body);
// Why the value does not fit, or "".
[[nodiscard]] std::string misfit(const Field& field, const nlohmann::json& value);

}  // namespace tedge::casebook
