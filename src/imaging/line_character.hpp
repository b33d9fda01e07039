// What a line found in a picture looks like, to tell cracks from drawing: whether its depth keeps up, whether its two
// sides and its colour are those of one paint, what runs beside it, and how much hangs together with it.
#pragma once

#include <vector>

#include "tedge/imaging/crack_map.hpp"

namespace tedge::imaging {

struct LineCharacter {
    double evidence = 0.0;      // mean, of what is asked (crack_evidence.hpp)
    double depth_spread = 0.0;  // between the quartiles of its depth, over their median
    double sides_differ = 0.0;  // what its steps from one side to the other add up to, over what its depths add up to
    // Angle between the light lost in the line and the light of its sides, as red, green and blue. A shadow takes light
    // in the colour of the paint; paint of another hue does not. 0 in gray pictures.
    double off_hue_deg = 0.0;
    double abreast_one = 0.0;   // share of its length with a line in its own direction near one side
    double abreast_both = 0.0;  // near both sides
    double network_px = 0.0;    // length of all that hangs together with it
};

// One for each crack of the map, in their order. evidence: 1 channel, the size of srgb.
[[nodiscard]] std::vector<LineCharacter> line_characters(const Raster8& srgb, const Raster8& evidence,
                                                         const CrackMap& map);

// Rather a crack above 0, rather drawing or brushwork below: the logarithm of the odds, by a logistic regression on
// 10,700 lines of photographed craquelure, made cracks on made and on real paintings, and drawing.
[[nodiscard]] double rather_crack(const LineCharacter& line);

}  // namespace tedge::imaging
