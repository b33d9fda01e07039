// What options say of a photograph: --face, --light, --when, --raking-from, --raking-angle.
#pragma once

#include "arguments.hpp"
#include "tedge/usecases/photograph_guess.hpp"

namespace tedge::cli {

// "as-found" is how many people say it of a picture as it came.
[[nodiscard]] std::string stage_word(const std::string& said);

// Options that were not given are left out. Errors: those of parse_face, usage.not-a-number.
[[nodiscard]] Expected<usecases::ShotSaid> said_of_shot(const Arguments& arguments);

}  // namespace tedge::cli
