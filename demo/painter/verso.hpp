// The back: bare canvas, the strainer, a patch, a faint inscription, a colourman's stamp, a label, a chalk number.
#pragma once

#include <string>
#include <vector>

#include "ink.hpp"
#include "surface.hpp"

namespace tedge::painter {

// A mark on the back, in mm of the verso.
struct VersoMark {
    std::string what;
    std::string text;
    Line box;
};

struct VersoTruth {
    std::vector<VersoMark> marks;
    Line patch;
    std::vector<Line> bars;
    double warp_per_cm = canvas.warp_per_cm;
    double weft_per_cm = canvas.weft_per_cm;
};

[[nodiscard]] VersoTruth verso_truth();

// Linear light as 16-bit shares, in normal light, in the frame of the verso.
[[nodiscard]] imaging::Raster16 verso_appearance(const Surface& surface, int threads);

}  // namespace tedge::painter
