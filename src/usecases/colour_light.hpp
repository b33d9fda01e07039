// The one question before colours are measured or compared: does the light show them?
#pragma once

#include "tedge/base/error.hpp"
#include "tedge/casebook/record.hpp"

namespace tedge::usecases {

// Errors: photograph.no-colour-light (only normal and cross-polarised light show colour); a light that was only guessed
// is told as that.
[[nodiscard]] Expected<void> check_shows_colour(const casebook::Record& photograph);

}  // namespace tedge::usecases
