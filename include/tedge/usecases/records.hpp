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
// of Casebook::commit, photograph.facts-of-the-file (what is read from a file is not typed). Warnings of gates do not
// stop the act; ask gates_before_act() to show them.
[[nodiscard]] Expected<Done> add_record(const Acting& acting, const Uuid& case_id, std::string_view kind,
                                        const casebook::FieldValues& values);
// `seen`: Record::newest_changes as the person had them before him when he began (casebook::Edit::seen). What another
// program wrote in between then becomes a conflict that is listed, not a silent overwriting. Left empty, the record
// counts as seen as it stands now.
[[nodiscard]] Expected<Done> change_record(const Acting& acting, const Uuid& record,
                                           const casebook::FieldValues& values, std::string_view reason = {},
                                           const std::vector<Uuid>& seen = {});
[[nodiscard]] Expected<Done> remove_record(const Acting& acting, const Uuid& record, std::string_view reason = {},
                                           const std::vector<Uuid>& seen = {});
// A removed record comes back as it was when it was removed: what was done stays done, whatever was found there since.
// Where somebody wrote into it after the removal, the gates are asked as before that change. Errors: gate.closed,
// casebook.nothing-to-do.
[[nodiscard]] Expected<Done> restore_record(const Acting& acting, const Uuid& record);
// Carries an inverse out; its own inverse comes back, for redo.
[[nodiscard]] Expected<Done> take_back(const Acting& acting, const casebook::Edit& inverse);

// The answers of the gates that stand before adding such a record, closed and warning ones.
[[nodiscard]] Expected<std::vector<casebook::GateAnswer>> gates_before_act(casebook::Casebook& book,
                                                                           const Uuid& case_id, std::string_view kind,
                                                                           const casebook::FieldValues& values);

// The same before changing a record, as it would stand then, of the gates that look at what is changed; overrides that
// name it count.
[[nodiscard]] Expected<std::vector<casebook::GateAnswer>> gates_before_change(casebook::Casebook& book,
                                                                              const Uuid& record,
                                                                              const casebook::FieldValues& values);

// A named person takes it upon himself, with a written reason.
struct Override {
    Uuid case_id;
    int gate = 0;
    std::string requirement;  // the code of what is missing
    std::string name;         // of the person
    std::string reason;
    bool whole_picture = false;
};
// Once for the picture. Errors: gate.no-reason, gate.law (a gate of the law has no override), gate.nothing-to-override,
// gate.each-time (the requirement cannot be answered once for the whole picture: it goes along with its act).
[[nodiscard]] Expected<Done> override_gate(const Acting& acting, const Override& wanted,
                                           const casebook::GateAnswer& answer);

// The record, or a change of it, together with the overrides that let this one act pass, all or nothing: an override
// that is not for the whole picture counts for the act it names, of the sort and at the place it was given for. Taking
// it back takes the act back; the overrides stay, as what was said. Errors: gate.closed where a closing requirement is
// in none of them, gate.no-reason, gate.law, gate.nothing-to-override.
[[nodiscard]] Expected<Done> add_record_overriding(const Acting& acting, const Uuid& case_id, std::string_view kind,
                                                   const casebook::FieldValues& values,
                                                   const std::vector<Override>& overrides);
[[nodiscard]] Expected<Done> change_record_overriding(const Acting& acting, const Uuid& record,
                                                      const casebook::FieldValues& values,
                                                      const std::vector<Override>& overrides,
                                                      std::string_view reason = {}, const std::vector<Uuid>& seen = {});

}  // namespace tedge::usecases
