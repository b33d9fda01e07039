// Whether a registration can be trusted, on the evidence of its first and last round of tiles.
#pragma once

#include "registration_levels.hpp"
#include "tedge/imaging/registration.hpp"

namespace tedge::imaging {

// Fills map, tile counts, overlap, residual, error map, code, reason and usable from the last level.
// The sizes and `mirrored`, `inliers`, `matched_on` must be set before. distinctness: see registration_repeats.hpp.
void judge(const LevelResult& level, double distinctness, const RegistrationOptions& options,
           RegistrationReport& report);

// A report that says no, with the sentence for the code.
void refuse(RegistrationReport& report, const std::string& code);

}  // namespace tedge::imaging
