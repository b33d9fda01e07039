// The act that gates are asked about, from the values that are to be written.
#pragma once

#include "tedge/casebook/casebook.hpp"
#include "tedge/casebook/gates.hpp"

namespace tedge::usecases {

// The record as it would stand with the values written into it.
[[nodiscard]] casebook::Body body_with(const casebook::Body& before, const casebook::FieldValues& values);

[[nodiscard]] casebook::Act act_of(std::string_view kind, casebook::Body fields, const Uuid& record);

// gate.closed, from the first requirement that closes the gate.
[[nodiscard]] std::unexpected<Error> closed_by(const casebook::GateAnswer& answer);

// Errors: gate.closed, when a gate stands before the act as the case is now. Within one act with what is written.
[[nodiscard]] Expected<void> pass_gates(casebook::Casebook& book, const Uuid& case_id, const casebook::Act& act);

// The same before a change of a record: by those gates alone that look at what is changed (gates.hpp).
[[nodiscard]] Expected<void> pass_gates_of_change(casebook::Casebook& book, const casebook::Record& before,
                                                  const casebook::Act& act);

// Values that put the record back to what it says now.
[[nodiscard]] casebook::FieldValues inverse_values(const casebook::Body& now, const casebook::FieldValues& values);

}  // namespace tedge::usecases
