// The lamp of a photograph in raking light: on which side it stood, at which angle to the surface.
#pragma once

#include <string>

#include "tedge/base/error.hpp"
#include "tedge/casebook/record.hpp"

namespace tedge::casebook {

// Fields `raking_side` and `raking_angle_degrees` of a photograph: only one in raking light has them. The casebook asks
// this of every photograph whose light, side or angle is written. Errors: photograph.not-raking.
[[nodiscard]] Expected<void> check_raking(const Body& photograph);

// "raking light from the top left at 15°", "normal light".
[[nodiscard]] std::string light_in_words(const Body& photograph);

}  // namespace tedge::casebook
