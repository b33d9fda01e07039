// The next cleaning trial of a passage, from the last one there.
#pragma once

#include <string>

#include "tedge/casebook/record.hpp"
#include "tedge/casebook/snapshot.hpp"

namespace tedge::usecases {

struct NextTrial {
    // Passage, layer, place, how it was applied and cleared, as in the last trial; what only the trial itself can tell
    // (removal, swab, verdict, measured change, note) is left out. The agent: the next stronger mixture
    // (cleaning::next_stronger) after one that was too weak, the same after one that cleared; none while the passage
    // says stop.
    casebook::FieldValues values;
    std::string why;  // one sentence on the agent, for the person who decides; a proposal, never a permission
};

// `last`: a record of kind "trial" of this case.
[[nodiscard]] NextTrial next_trial(const casebook::CaseSnapshot& snapshot, const casebook::Record& last);

// The last trial of each passage, the newest of them first.
[[nodiscard]] std::vector<const casebook::Record*> last_trials(const casebook::CaseSnapshot& snapshot);

// The trial says stop: by its verdict, or because the colour on its swab is original paint or nobody knows.
[[nodiscard]] bool says_stop(const casebook::Body& trial);

}  // namespace tedge::usecases
