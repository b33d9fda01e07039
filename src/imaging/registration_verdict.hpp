// Whether a registration can be trusted, on the evidence of its first and last round of tiles.
#pragma once

#include "registration_levels.hpp"
#include "tedge/imaging/registration.hpp"

namespace tedge::imaging {

// What the last round of tiles does not tell by itself.
struct Circumstances {
    bool repeats_itself = false;  // see registration_repeats.hpp
    bool copy = false;            // see registration_copy.hpp
    double shift_px = 0.0;        // by which all tiles may lie beside the truth alike, taken into the error
};

// Fills map, tile counts, overlap, residual, error map, code, reason and usable from the last level.
// The sizes and `mirrored`, `inliers`, `matched_on` must be set before.
void judge(const LevelResult& level, const Circumstances& circumstances, const RegistrationOptions& options,
           RegistrationReport& report);

// The error of the last level's map where tiles agree, for itself.
[[nodiscard]] double error_px(const LevelResult& level, SizePx moving);

// A report that says no, with the sentence for the code.
void refuse(RegistrationReport& report, const std::string& code);

}  // namespace tedge::imaging
