// Repeating a photograph: the same face in the same light, framed as it was before.
#pragma once

#include "tedge/casebook/snapshot.hpp"

namespace tedge::usecases {

// The one of the set before whose framing and light this photograph repeats: of the same face and light (under raking
// light from the same side, where both say it), of the nearest earlier stage, and of that the last one taken. Null
// where there is none.
[[nodiscard]] const casebook::Record* earlier_shot(const casebook::CaseSnapshot& snapshot,
                                                   const casebook::Record& photograph);

}  // namespace tedge::usecases
