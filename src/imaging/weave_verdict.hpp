// From the map of a weave to two counts, and whether they are to be trusted.
#pragma once

#include "tedge/imaging/thread_count.hpp"
#include "weave_lattice.hpp"

namespace tedge::imaging {

// Fills a and b from the map: mean of the trusted squares as vectors, so that waves of the threads cancel out.
void sum_up(ThreadCount& count);

struct WeaveEvidence {
    LatticeSearch search;
    double px_per_cm = 0.0;
    double gray_levels = 0.0;  // mean local deviation of the photograph
};

// Fills confidence, usable, code, reason and notes.
void judge(ThreadCount& count, const WeaveEvidence& evidence);

}  // namespace tedge::imaging
