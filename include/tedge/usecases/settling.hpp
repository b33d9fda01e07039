// Settling what two people wrote differently without knowing of each other.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tedge/casebook/disagreement.hpp"
#include "tedge/usecases/records.hpp"

namespace tedge::usecases {

// What is not settled, by record: in one case, or in the whole book.
[[nodiscard]] Expected<std::vector<casebook::Disagreement>> disagreements(casebook::Casebook& book,
                                                                          const std::optional<Uuid>& case_id);

// A person's decision on all that is contested in a record.
struct Settlement {
    Uuid record;
    std::vector<Uuid> changes;     // Disagreement::changes as the person had them before him
    casebook::FieldValues values;  // for every contested field: what it is to say, or that it is taken away
    std::optional<bool> stays;     // where one took the record away: whether it stays
    std::string reason;
    std::vector<Uuid> seen{};  // Record::newest_changes as the person had them before him
};

// The decision as far as one side gives it: fields on which that change is silent are to say what they say now.
[[nodiscard]] Settlement taking(const casebook::Disagreement& disagreement, const casebook::Record& now,
                                const std::optional<Uuid>& change, std::string_view reason);

// Writes it as one change that names those it settles. Every contested field is written anew, also where it stays as it
// shows: so that two people who settle differently are told of it. Taking it back puts back what showed before; what
// was settled stays settled, for a log does not forget that somebody decided.
// Errors: conflict.no-reason, conflict.settled (nothing of it is open any more), conflict.undecided (values.path),
// conflict.not-contested (a value for what nobody contests), face.stood-on,
// gate.closed where the decision changes what shows, and those of Casebook::commit.
[[nodiscard]] Expected<Done> settle_conflict(const Acting& acting, const Settlement& settlement);

}  // namespace tedge::usecases
