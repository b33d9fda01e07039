// What the generator knows about its own photographs, written beside them as truth.json.
#pragma once

#include <string>

#include "photographs.hpp"
#include "surface.hpp"

namespace tedge::painter {

// UTF-8 JSON, keys sorted, ending in a line feed. Lengths in mm, places in photographs as pixels after orientation.
[[nodiscard]] std::string truth_json(const Surface& surface, const std::vector<Photograph>& photographs);

}  // namespace tedge::painter
