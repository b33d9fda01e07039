// Cracks of known course on any picture: smooth tapered lines that branch off at right angles and end at one another,
// as drying and ageing cracks do, and painted hairs that are none.
#pragma once

#include <cstdint>
#include <functional>
#include <vector>

#include "tedge/geometry/coordinates.hpp"
#include "tedge/imaging/raster.hpp"

namespace tedge::test_support {

struct MadeCrack {
    std::vector<PointPx> line;  // about a pixel apart
    double width_px = 2.0;      // where it begins; it tapers to under a pixel where it ends freely
    double depth = 0.5;         // share of light lost in the middle; below 0: lighter than the paint
    bool tapers = true;
};

struct CrackHabit {
    std::uint64_t seed = 1;
    int stems = 12;               // cracks that begin anywhere
    double branch_every_px = 70;  // along each crack, a branch to one side
    double longest_px = 500;
    double narrowest_px = 1.2;
    double widest_px = 4.0;
    double shallowest = 0.25;
    double deepest = 0.7;
};
[[nodiscard]] std::vector<MadeCrack> made_cracks(const CrackHabit& habit, SizePx size);

// Bundles of nearly parallel short strokes, a little darker or lighter than what they lie on.
[[nodiscard]] std::vector<MadeCrack> made_hairs(std::uint64_t seed, SizePx size, int bundles);

// Light is taken away (or added) along each line, edges softened as a lens does. moved: where a point of the line lies
// in this picture.
using Moved = std::function<PointPx(PointPx)>;
void draw_lines(imaging::Raster8& picture, const std::vector<MadeCrack>& lines, const Moved& moved = {});

// 255 on the middle lines, one pixel wide.
[[nodiscard]] imaging::Raster8 middle_lines(const std::vector<MadeCrack>& lines, SizePx size, const Moved& moved = {});

// Both masks the same size: the share of `of`'s pixels that lie within `reach_px` of one of `near`.
[[nodiscard]] double share_within(const imaging::Raster8& of, const imaging::Raster8& near, double reach_px);

}  // namespace tedge::test_support
