// How sure every pixel is a crack's: its depth over what the paint around it asks for.
#pragma once

#include <cstdint>

#include "crack_response.hpp"

namespace tedge::imaging {

// The value of a pixel that is just as deep as asked. Eight times as deep is as much as is told apart.
inline constexpr int evidence_unit = 32;

// counted as in CrackOptions. 1 channel, the size of level 0. Errors: cancelled.
[[nodiscard]] Expected<Raster8> crack_evidence(const LineLevels& levels, const Raster8* counted,
                                               const Progress& progress);

}  // namespace tedge::imaging
