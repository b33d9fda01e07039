// Writing the plain records of a case: findings, trials, costs, custody, owners … Gates are asked before the act, and
// every act says what would take it back.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "tedge/casebook/gates.hpp"
#include "tedge/usecases/acting.hpp"

namespace tedge::usecases {

// What a person did and what takes it back: undo is an act of its own, written into the log like any other.
struct Done {
    Uuid record;
    casebook::Edit inverse;
};

// Errors: gate.closed (values.gate, values.requirement, values.sheet: the first requirement that closes it), and those
// of Casebook::commit. Warnings of gates do not stop the act; ask gates_before_act() to show them.
[[nodiscard]] Expected<Done> add_record(const Acting& acting, const Uuid& case_id, std::string_view kind,
                                        const casebook::FieldValues& values);
[[nodiscard]] Expected<Done> change_record(const Acting& acting, const Uuid& record,
                                           const casebook::FieldValues& values, std::string_view reason = {});
[[nodiscard]] Expected<Done> remove_record(const Acting& acting, const Uuid& record, std::string_view reason = {});
// Carries an inverse out; its own inverse comes back, for redo.
[[nodiscard]] Expected<Done> take_back(const Acting& acting, const casebook::Edit& inverse);

// The answers of the gates that stand before adding such a record, closed and warning ones.
[[nodiscard]] Expected<std::vector<casebook::GateAnswer>> gates_before_act(casebook::Casebook& book,
                                                                           const Uuid& case_id, std::string_view kind,
                                                                           const casebook::FieldValues& values);

// A named person takes it upon himself, with a written reason. Errors: gate.no-reason, gate.law (a gate of the law has
// no override), gate.nothing-to-override.
struct Override {
    Uuid case_id;
    int gate = 0;
    std::string requirement;  // the code of what is missing
    std::string name;         // of the person
    std::string reason;
    bool whole_picture = false;
};
[[nodiscard]] Expected<Done> override_gate(const Acting& acting, const Override& wanted,
                                           const casebook::GateAnswer& answer);

}  // namespace tedge::usecases
