// How far two pictures may lie beside each other at a place: one error for all and maps of more.
#pragma once

#include <vector>

#include "tedge/imaging/registration.hpp"

namespace tedge::imaging {

// All join in quadrature: one standard deviation in pixels of the reference. Negative where a map says that the moving
// picture does not reach.
[[nodiscard]] double error_at(double error_px, const std::vector<const RegistrationErrorMap*>& maps, PointPx reference);

}  // namespace tedge::imaging
