// The whole picture as a body: paint, cracks, damage, coatings and canvas, everything that no photograph changes.
#pragma once

#include <vector>

#include "composition.hpp"
#include "craquelure.hpp"
#include "damage.hpp"
#include "field.hpp"
#include "ink.hpp"
#include "weave.hpp"

namespace tedge::painter {

inline constexpr double strainer_bar_mm = 48.0;
inline constexpr Weave canvas{13.4, 11.8, 901U};

struct Surface {
    Grid grid;
    std::vector<Crack> cracks;
    Damage damage;
    PaintLayers paint;

    Mask crack_cover;
    Mask ground_shows;  // losses down to the ground, by share of the sample
    Mask canvas_shows;  // losses down to the canvas, the tear among them
    Mask overpaint;
    Mask drawing;  // the painter's drawing under the paint
    imaging::Raster8 weave_height;
    imaging::Raster8 weave_tone;

    // The paint's colour over some millimetres: what the old restorer matched.
    Field broad_red, broad_green, broad_blue;

    Field lift_um;     // cupping beside cracks
    Field loose;       // 1 in the flaking zones, soft edges
    Field varnish_um;  // the old varnish
    Field dirt_um;
    Field cloud;     // the share of the old varnish that has gone milky
    Field bulge_um;  // the slack canvas: draws from the corners, the mark of the bars

    Surface(const Grid& grid, int threads);
};

}  // namespace tedge::painter
