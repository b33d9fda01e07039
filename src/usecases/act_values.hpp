// The act that gates are asked about, from the values that are to be written.
#pragma once

#include "tedge/casebook/casebook.hpp"
#include "tedge/casebook/gates.hpp"
#include "tedge/usecases/acting.hpp"

namespace tedge::usecases {

// The record as it would stand with the values written into it.
[[nodiscard]] casebook::Body body_with(const casebook::Body& before, const casebook::FieldValues& values);

[[nodiscard]] casebook::Act act_of(std::string_view kind, casebook::Body fields, const Uuid& record);

// gate.closed, from the first requirement that closes the gate.
[[nodiscard]] std::unexpected<Error> closed_by(const casebook::GateAnswer& answer);

// Errors: gate.closed, when a gate that looks at what is changed (gates.hpp) stands before it as the case is now; all
// of them for a removed record that comes back. Within one act with what is written.
[[nodiscard]] Expected<void> pass_gates_of_change(casebook::Casebook& book, const casebook::Record& before,
                                                  const casebook::Act& act);

// A place is a region on a frame: who writes one of the two has seen both, and says both. So two people who move a
// record apart contradict each other, and no place comes about that neither has drawn.
[[nodiscard]] casebook::FieldValues with_whole_place(const casebook::Body& before, casebook::FieldValues values);

// Who says what a photograph shows takes it out of guessing, unless he says that it is a guess.
[[nodiscard]] casebook::FieldValues with_guess_settled(const casebook::Record& before, casebook::FieldValues values);

// A limit that was fixed stays as it was, with its plan, who and when; remarks may be added. Errors: ceiling.fixed.
[[nodiscard]] Expected<void> check_stays_fixed(const casebook::Record& before, const casebook::FieldValues& values);

// What somebody may type at all. A file tells of itself as it is taken in, and an override goes along with the act it
// lets pass. Errors: photograph.facts-of-the-file, gate.through-the-gate.
[[nodiscard]] Expected<void> check_typed_by_hand(std::string_view kind, const casebook::FieldValues& values);

// Millimetres stay those of their face while anything stands on them. `values` of a change; a removal has none.
// Errors: face.stood-on.
[[nodiscard]] Expected<void> check_frame_stands(const Acting& acting, const casebook::Record& frame,
                                                const std::optional<casebook::FieldValues>& values);

// What takes a new record back.
[[nodiscard]] casebook::Edit removal_of(const Uuid& record);

// Values that put the record back to what it says now.
[[nodiscard]] casebook::FieldValues inverse_values(const casebook::Body& now, const casebook::FieldValues& values);

}  // namespace tedge::usecases
