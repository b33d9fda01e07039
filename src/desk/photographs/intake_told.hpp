// What an intake ended with, in sentences.
#pragma once

#include <QString>

#include "photographs/intake_model.hpp"

namespace tedge::desk {

// How many came in, which were refused and why, and what reading left out of the others; the first few by name.
[[nodiscard]] QString told_of_intake(const IntakeModel& model, bool was_cancelled);

}  // namespace tedge::desk
