// What a finding says of how fast paint and support hold.
#pragma once

#include "tedge/casebook/record.hpp"

namespace tedge::casebook {

// Whether the place is to be left alone until it is consolidated: the finding says so; or it says nothing of it and
// names what by its nature is loose (flaking, lifting, blistered, powdering, detached, cleaving, loose). Only a "no"
// that somebody gave makes such a place firm. Common practice.
[[nodiscard]] bool is_unstable(const Body& finding);

// Unstable, and not consolidated since.
[[nodiscard]] bool is_open_danger(const Body& finding);

}  // namespace tedge::casebook
