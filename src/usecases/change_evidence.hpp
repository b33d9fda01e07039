// What the charts of two photographs allow to say about a change of colour: below which difference nothing is evidence.
#pragma once

#include <optional>
#include <string>

#include "photograph_chart.hpp"

namespace tedge::usecases {

// The charts of both photographs, the newest measurement of each (measure_chart).
struct ChartsOfPair {
    PhotographChart first;
    PhotographChart second;
    std::string missing;  // what stands in the way of correcting both by their charts, one sentence; "" when nothing

    [[nodiscard]] bool both() const { return missing.empty(); }
};
[[nodiscard]] ChartsOfPair charts_of(const casebook::CaseSnapshot& snapshot, const casebook::Record& first,
                                     const casebook::Record& second);

struct Floor {
    std::optional<double> delta_e00;  // nothing without a measured chart in both
    std::string sentence;
};
// Of two photographs that are corrected by their charts: the errors that both charts are left with and the noise of the
// pixels (difference_noise.hpp) as independent errors, the root of the sum of their squares. Otherwise there is none.
[[nodiscard]] Floor floor_of(const ChartsOfPair& charts, double noise_delta_e00);

}  // namespace tedge::usecases
