// Fitting a coat to places seen with and without it.
#pragma once

#include <vector>

#include "coating_model.hpp"

namespace tedge::imaging {

// One place seen twice, and how far its two means may lie apart because the two photographs do (in units of L*).
struct SeenTwice {
    std::size_t patch = 0;  // places near each other share one thickness
    Light3 uncleaned{};
    Light3 cleaned{};
    double misfit = 0.0;
};

// Absorption, veil, crosstalk row by row.
inline constexpr std::size_t coat_parameters = 12;
using CoatParameters = std::array<double, coat_parameters>;
[[nodiscard]] Coat coat_of(const CoatParameters& values);

struct FittedCoat {
    CoatParameters values{};
    Coat coat;
    std::vector<double> thickness;     // of each patch; 1 on the average
    std::vector<double> thickness_sd;  // given the coat
    // Each is what the parameters differ by in one of the ways that are independent, one standard deviation of it.
    std::array<CoatParameters, coat_parameters> ways{};
};

// darkest: no channel of the picture is darker than this but for a few pixels. The veil cannot be much brighter, and is
// not much darker either: most paintings have something nearly black.
[[nodiscard]] FittedCoat fit_coat(const std::vector<SeenTwice>& places, std::size_t patches, const Light3& darkest);

}  // namespace tedge::imaging
