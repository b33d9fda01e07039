// What a small copy of a photograph looks like as a whole: enough to guess in which light it was taken, never enough to
// know. Figures only.
#pragma once

#include <string>
#include <string_view>

#include "tedge/imaging/raster.hpp"

namespace tedge::imaging {

// Shares are of all pixels, 0 to 1; lightness and chroma are those of CIELAB (colour.hpp).
struct PictureCharacter {
    double mean_lightness = 0.0;
    double lightness_spread = 0.0;  // standard deviation
    double mean_chroma = 0.0;
    double colour_spread = 0.0;  // root mean square distance from the mean colour in a*, b*
    double mean_a = 0.0;
    double mean_b = 0.0;
    double colourless_share = 0.0;  // chroma below 3
    double cool_share = 0.0;        // of what is not black: hue from 140° to 325°, chroma above 3
    double warm_share = 0.0;        // of what is not black: hue from -20° to 110°, chroma above 8
    double ochre_share = 0.0;       // of what has colour: hue from 55° to 95°, chroma from 8 to 45
    double ochre_lightness_spread = 0.0;
    double black_share = 0.0;   // L* below 10
    double bright_share = 0.0;  // L* above 70
    // Light that falls off across the picture: the plane through the logarithm of the light, and how much of the coarse
    // differences of light it explains. Of the grey around the picture where there is enough of it, for nobody painted
    // that; else of everything.
    bool falloff_is_of_surround = false;
    double falloff_right = 0.0;  // natural logarithm, from the left side to the right; negative: the left is bright
    double falloff_down = 0.0;
    double falloff_explains = 0.0;  // 0 to 1
};

// `srgb`: three channels, best at 128 to 512 px a side.
[[nodiscard]] PictureCharacter character_of(const Raster8& srgb);

// A guess at the light, and at a bare back; "" where the picture says nothing. Thresholds are our own, tried on
// photographs of paintings and on made ones; what lights do to a picture is common practice: a cold glow without any
// warm colour (ultraviolet), no colour at all (infrared), points of light in the dark (transmitted), a fall of light
// from one side (raking).
struct LightGuess {
    std::string light;
    std::string raking_side;
    std::string why;  // "the picture is dark and blue-violet"
};
[[nodiscard]] LightGuess guess_light(const PictureCharacter& character);
[[nodiscard]] std::string why_bare_back(const PictureCharacter& character);  // "" where it is none

}  // namespace tedge::imaging
