// Brightness checked against colour, for pictures lit from one side.
#pragma once

#include <optional>

#include "registration_levels.hpp"

namespace tedge::imaging {

// Light from one side shades the slopes of brushwork, and shading moves every edge the same way: brightness alone
// cannot tell it from a shift of the picture. But shading leaves the ratio of the channels alone. So where the colours
// of some hundred tiles lie beside the map on the whole, all in one direction and by far more than chance, the map is
// moved to where colour lies, smoothly: how the picture bends, many small tiles of brightness know better.
struct ColourCheck {
    // How far colour lies beside the map on the whole, with the standard error of that, pixels of the reference. Empty
    // when there is no colour, when its tiles do not agree with each other, or progress says stop.
    std::optional<double> beside_px;
    std::optional<LevelResult> anew;  // when that is too far
    double unseen_px = 0.0;           // a shift of this length would have gone unseen, in the new map too
    bool is_beside = false;           // by far more than chance, whether colour was then believed or not
};

// What is asked of colour before it is believed against brightness.
struct ColourRule {
    double least_shift_samples;  // in finest samples; smaller ones do no harm
    double standard_errors;
    double least_score;  // of the middle tile
};
// Light is known to differ.
inline constexpr ColourRule light_differs{0.08, 6.0, 0.0};
// Nobody said how the two were lit. On made pairs colour lay 0.19 to 0.60 samples beside brightness, 14 standard errors
// and more, and its tiles agreed to 0.85 and more, where one was lit from the side; 0.17 samples, 6.5 standard errors
// and 0.82 at most under dirt, varnish and new paint.
inline constexpr ColourRule light_unknown{0.15, 8.0, 0.8};

// Colour is compared at four times the finest pitch where the pictures are large enough: cameras and their files keep
// colour coarsely.
[[nodiscard]] ColourCheck check_by_colour(const PictureView& reference, const PictureView& moving, const PixelMap& map,
                                          const ColourRule& rule, int workers, const Progress& progress);

}  // namespace tedge::imaging
