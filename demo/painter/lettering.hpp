// Letters as pen strokes: for the inscription, the stamp, the signature and the figures on the scale.
#pragma once

#include <string_view>
#include <vector>

#include "ink.hpp"

namespace tedge::painter {

struct Hand {
    double height_mm = 5.0;  // of a capital
    double slant = 0.0;      // how far the top leans to the right, as a share of the height
    double tremor = 0.0;     // how unsteady, as a share of the height
    double spacing = 1.0;    // distance between letters, 1 as usual
    double turn_deg = 0.0;   // of the whole line, clockwise
    std::uint32_t seed = 1;
};

// Capitals, small letters, figures and a few signs; what it does not know is left blank. `start` is where the base
// line begins.
[[nodiscard]] std::vector<Line> written(std::string_view text, PointMm start, const Hand& hand);

// How wide the line of text comes out, in mm.
[[nodiscard]] double width_of(std::string_view text, const Hand& hand);

}  // namespace tedge::painter
