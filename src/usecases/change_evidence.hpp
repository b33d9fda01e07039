// What two placed photographs allow to say about a change: how well they lie on each other, and below which difference
// of colour nothing is evidence.
#pragma once

#include <optional>
#include <string>

#include "placed_photograph.hpp"

namespace tedge::usecases {

// One standard deviation of where the two lie on each other. Where both hang on one photograph by registrations that
// are still their placements, what they share (the corners it was placed by) goes out; otherwise both placements'
// errors join in quadrature.
[[nodiscard]] double error_between_mm(const casebook::CaseSnapshot& snapshot, const PlacedPhotograph& first,
                                      const PlacedPhotograph& second);

struct Floor {
    std::optional<double> delta_e00;  // nothing without a measured chart in both
    std::string sentence;
};
// From the charts measured in both (measure_chart), the newest of each.
[[nodiscard]] Floor floor_between(const casebook::CaseSnapshot& snapshot, const casebook::Record& first,
                                  const casebook::Record& second);

}  // namespace tedge::usecases
