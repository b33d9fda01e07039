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
};

struct EdgeSharpness {
    double sfr50_cycles_per_px = 0.0;          // where the response falls to a half
    double sfr10_cycles_per_px = 0.0;          // to a tenth; 0.5 is all that pixels can carry
    double sampling_efficiency_percent = 0.0;  // 100 · SFR10 / 0.5, at most 100
    double highest_response = 0.0;             // above 1: sharpened
    double edge_degrees = 0.0;                 // of the edge from the nearest pixel axis
    std::vector<double> response{};            // at 0, 1/64, … 0.5 cycles per pixel (33 values)
};

// The box holds one straight edge, dark on one side and light on the other, 2 to 30 degrees from upright or level, and
// nothing else; linear light of the green channel is read. Errors: sharpness.box (outside, or under 20 px a side),
// sharpness.no-edge (contrast under 20 %, or the edge is not straight), sharpness.angle, sharpness.clipped.
[[nodiscard]] Expected<EdgeSharpness> edge_sharpness(const ChartPicture& picture, const BoxPx& box);

}  // namespace tedge::imaging
