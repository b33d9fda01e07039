// The lattice of a weave followed from square to square.
#pragma once

#include <functional>
#include <vector>

#include "tedge/imaging/thread_count.hpp"
#include "weave_lattice.hpp"

namespace tedge::imaging {

// Both sets at one square, in cycles per centimetre of the signal.
struct LocalWeave {
    Frequency a{};
    Frequency b{};
    double trust_a = 0.0;
    double trust_b = 0.0;
};

// How frequencies at a square follow from those at the middle of the photograph (perspective): a linear map, row-major.
using LocalTurn = std::function<std::array<double, 4>(PointPx centre_of_signal)>;

// One for each square of the grid. Each is searched near the lattice, then again near what its neighbours say, so no
// square can take a harmonic for its threads. Stops early, incomplete, when progress says stop.
[[nodiscard]] std::vector<LocalWeave> follow_lattice(const WeaveSignal& signal, const SquareGrid& grid,
                                                     const PowerSpectrum& mean, const WeaveLattice& lattice,
                                                     const LocalTurn& turn, int workers, const Progress& progress);

}  // namespace tedge::imaging
