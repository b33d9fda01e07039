// Counts made true by phase: how many threads lie between one square and the next.
#pragma once

#include <vector>

#include "weave_map.hpp"

namespace tedge::imaging {

// A peak of an uneven weave stands a little off the mean count, towards the stronger frequencies. The phase of the
// threads at two squares says how many lie between them, which is what is wanted: the mean over all neighbours of what
// their frequencies miss is added to every square. `by_checks`: a set is not seen on its axis, so both checks tell.
void correct_by_phase(const WeaveSignal& signal, const SquareGrid& grid, bool a_by_checks, bool b_by_checks,
                      std::vector<LocalWeave>& weave, int workers, const Progress& progress);

}  // namespace tedge::imaging
