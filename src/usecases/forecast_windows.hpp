// The cleaned windows that a case has on record.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "coloured_pair.hpp"
#include "tedge/geometry/region.hpp"

namespace tedge::usecases {

struct ForecastWindows {
    std::vector<Region> places;  // on the frame of the pair
    std::vector<std::optional<Uuid>> records;
    std::string note;  // what was left out, or ""
};

// Trials and treatments done that took dirt or varnish off and lie on that face. Where some took varnish off, those
// alone. A trial that says stop touched paint and shows no cleaned picture.
[[nodiscard]] ForecastWindows recorded_windows(const PlacedPair& pair);

}  // namespace tedge::usecases
