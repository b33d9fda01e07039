// Sharpness by a slanted edge: the spatial frequency response of ISO 12233 (the edge-based method).
#pragma once

#include <vector>

#include "tedge/base/error.hpp"
#include "tedge/imaging/chart.hpp"

namespace tedge::imaging {

struct BoxPx {
    int x_px = 0;
    int y_px = 0;
    int width_px = 0;
    int height_px = 0;

    // Within a picture of that size, and at least so long on both sides.
    [[nodiscard]] bool lies_in(SizePx size, int least_side_px) const {
        return x_px >= 0 && y_px >= 0 && width_px >= least_side_px && height_px >= least_side_px &&
               width_px <= size.width_px - x_px && height_px <= size.height_px - y_px;
    }
};

struct EdgeSharpness {
    double sfr50_cycles_per_px = 0.0;          // where the response falls to a half
    double sfr10_cycles_per_px = 0.0;          // to a tenth; 0.5 is all that pixels can carry
    double sampling_efficiency_percent = 0.0;  // 100 · SFR10 / 0.5, at most 100
    double highest_response = 0.0;             // above 1: sharpened
    double edge_degrees = 0.0;                 // of the edge from the nearest pixel axis
    double contrast = 0.0;                     // of the dark side against the light one: 1 - dark / light
    // How far the light of single pixels lies from what the edge explains, and how far either side goes up and down by
    // itself: root mean squares over the step from dark to light. Large where something else is in the box.
    double unexplained = 0.0;
    double uneven_sides = 0.0;
    std::vector<double> response{};  // at 0, 1/64, … 0.5 cycles per pixel (33 values)
};

// The box holds one straight edge, dark on one side and light on the other, 2 to 30 degrees from upright or level, and
// nothing else; linear light of the green channel is read. Errors: sharpness.box (outside, or under 20 px a side),
// sharpness.no-edge (contrast under 20 %, or the edge is not straight), sharpness.angle, sharpness.clipped.
[[nodiscard]] Expected<EdgeSharpness> edge_sharpness(const ChartPicture& picture, const BoxPx& box);

// The best slanted edge of the photograph: of all squares of 96, else of 64, else of 40 px that hold one straight edge
// and nothing else (a contrast of 30 % at least, unexplained below 5 %, uneven sides below 3 %: rules of our own) the
// one whose response falls to a half last. An edge can be softer than the lens shows it, or out of focus, but no
// sharper. Errors: sharpness.none-found, cancelled.
[[nodiscard]] Expected<BoxPx> find_edge(const ChartPicture& picture, const Progress& progress = {});

}  // namespace tedge::imaging
