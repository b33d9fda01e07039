// A map of colour differences as a picture: a scale of colours that is even to the eye, with its legend.
//
// The colours run from dark blue over rose to a yellow white. They are computed, not copied: CIELAB lightness rises
// evenly from 14 to 96, so that order and size can be read without any sense of hue (in grey print, and with any colour
// blindness); hue turns from blue to yellow and chroma swells in between, drawn back to the sRGB gamut where needed.
//
// Differences with a sign run from a pale middle evenly down to dark blue for less and to dark brown for more: size is
// told by lightness alike on both sides, the side by blue against brown, which no colour blindness takes for another.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "tedge/imaging/raster.hpp"

namespace tedge::imaging {

struct DifferenceScale {
    double floor = 0.0;      // differences up to here are noise or misfit and get the darkest colour
    double top = 10.0;       // from here on the brightest
    bool both_ways = false;  // differences with a sign, from -top to top; floor and top are sizes then
};

struct LegendTick {
    double position = 0.0;  // along the bar, 0 to 1: from the floor to the top, or from -top to top
    double value = 0.0;
    std::string label;  // "2", "2.5", "−5"; the last one is "≥ 10", the first of two ways "≤ −10"
};

struct DifferenceLegend {
    Raster8 bar;  // the lowest at the left or the bottom
    std::vector<LegendTick> ticks;
    std::string floor_note;  // "Differences up to 1.2 are not shown: …"; empty without a floor
};

// 0 to 1 (clamped) to sRGB.
[[nodiscard]] std::array<std::uint8_t, 3> scale_colour(double position);
// -1 to 1 (clamped) to sRGB, for differences with a sign.
[[nodiscard]] std::array<std::uint8_t, 3> two_way_colour(double position);

// 3 channels. Pixels that `counted` leaves out (0) become a plain middle grey, which the scale does not contain. A
// scale whose top is not above its floor is a programming error (std::invalid_argument).
[[nodiscard]] Raster8 draw_differences(const RasterF& map, const DifferenceScale& scale,
                                       const Raster8* counted = nullptr);

[[nodiscard]] DifferenceLegend legend_for(const DifferenceScale& scale, SizePx bar_size);

}  // namespace tedge::imaging
