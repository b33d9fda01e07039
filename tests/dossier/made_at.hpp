// When the dossiers of these tests are made.
#pragma once

#include "tedge/base/clock.hpp"

namespace tedge {

inline const Instant noon = parse_instant("2026-03-03T12:00:00Z").value();

}  // namespace tedge
