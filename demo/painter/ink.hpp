// Lines and shapes drawn into a one-channel mask, 0 to 255, edges softened over one sample.
#pragma once

#include <span>
#include <vector>

#include "brush.hpp"
#include "layers.hpp"
#include "tedge/geometry/coordinates.hpp"

namespace tedge::painter {

using Line = std::vector<PointMm>;

struct Mask {
    Grid grid;
    imaging::Raster8 cover;

    explicit Mask(const Grid& g) : grid(g), cover(g.width_px, g.height_px, 1) {}
    [[nodiscard]] float at(int x, int y) const { return static_cast<float>(cover.at(x, y)) * (1.0F / 255.0F); }
};

// A line of the given width and strength (0 to 1); lines finer than a sample cover it in part. Where marks meet the
// stronger one stays.
void draw_line(Mask& mask, const Line& line, double width_mm, double strength);

// A shape with straight sides, even-odd, covered by sixteen samples.
void fill_shape(Mask& mask, const Line& ring, double strength);

// The shape with soft edges: full inside by `feather_mm`, nothing at its outline.
void fill_softly(Mask& mask, const Line& ring, double feather_mm, double strength);

[[nodiscard]] bool within(const Line& ring, double x_mm, double y_mm);

}  // namespace tedge::painter
