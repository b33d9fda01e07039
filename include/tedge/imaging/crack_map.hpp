// The cracks of a paint surface (craquelure) as lines one pixel wide, each with its width and depth.
//
// A pixel is like a crack when a short straight piece through it is darker than the pieces to both its sides (a black
// top-hat with both flanks asked, in 16 directions, at several widths). How dark is enough goes by the texture around
// it and by the light that the paint sends back. Strong pixels carry the weaker ones that hang on them (hysteresis),
// the mask is thinned, and what is short, isolated or weak along its whole length is dropped. The parts are the usual
// ones (Cornelis and others, Signal Processing 93, 2013, for top-hats and oriented filters on paintings; Canny 1986
// for hysteresis; Zhang and Suen 1984 for thinning).
//
// Lines that are painted, and no cracks, often give themselves away: their depth changes along them, their two sides
// are two paints, what they take away is light of another hue than the paint's, others run abreast of them, and they
// hang together with little. What it cannot know: a single dark line that keeps its depth (a rope, a twig) looks like a
// crack.
#pragma once

#include <string>
#include <vector>

#include "tedge/base/error.hpp"
#include "tedge/base/progress.hpp"
#include "tedge/imaging/raster.hpp"

namespace tedge::imaging {

struct PixelXY {
    int x = 0;
    int y = 0;
    friend bool operator==(const PixelXY&, const PixelXY&) = default;
};

enum class CrackTone {
    dark,  // darker than the paint: shadow, dirt, varnish in it
    light  // lighter: ground or filling that shows
};

struct CrackOptions {
    CrackTone tone = CrackTone::dark;
    double widest_px = 14.0;           // cracks wider than that are taken for painted shapes; 4 to 60
    double least_length_px = 27.0;     // of a network of cracks, from end to end
    const Raster8* counted = nullptr;  // 1 channel, the picture's size: nothing is looked for where it is 0. Null: all
};

struct CrackPixel {
    PixelXY at;
    float width_px = 0.0F;  // between the points where half its depth is reached, across it
    float depth = 0.0F;     // how far its middle lies from the paint on its two sides, 8-bit steps of lightness
};

// Between two ends, crossings or the picture's edge. Neighbours share the pixel of their crossing.
struct Crack {
    std::vector<CrackPixel> pixels;  // in order
    double length_px = 0.0;          // along the line, smoothed over the steps of the grid
};

struct CrackMap {
    SizePx size;
    std::vector<Crack> cracks;  // by the row, then the column where they begin
    // Of the length of all lines found, the share that looks rather like drawing or brushwork than like cracks. What
    // surely does is left out of cracks. From much_drawn on, much of what was left may be drawing too.
    double drawn_share = 0.0;
};
inline constexpr double much_drawn = 0.25;
// What to say of that share; "" below much_drawn.
[[nodiscard]] std::string drawing_sentence(double drawn_share);

// srgb has 1 or 3 channels; of 3 the lightness counts (the weights of ITU-R BT.709 on encoded values). Deterministic on
// any number of threads. Memory: about seven bytes a pixel beside the picture.
// Errors: cracks.empty, cracks.channels, cracks.options, cracks.gate-differs, cancelled.
[[nodiscard]] Expected<CrackMap> crack_map(const Raster8& srgb, const CrackOptions& options = {},
                                           const Progress& progress = {});

// 255 on the cracks, 0 elsewhere.
[[nodiscard]] Raster8 crack_lines(const CrackMap& map);

}  // namespace tedge::imaging
