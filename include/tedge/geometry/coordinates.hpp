// Points and sizes, each in one named frame.
//
// Face frame (mm): recto has its origin at the top-left corner of the painted face, x to the right, y down. The verso
// is seen from behind, origin at its own top-left corner, so x_recto = width_mm - x_verso. Photograph (px): pixel
// centres stand at integers, (0, 0) is the centre of the top-left pixel, after orientation.
#pragma once

#include <vector>

namespace tedge {

struct PointMm {
    double x_mm = 0.0;
    double y_mm = 0.0;
    friend bool operator==(const PointMm&, const PointMm&) = default;
};

struct PointPx {
    double x_px = 0.0;
    double y_px = 0.0;
    friend bool operator==(const PointPx&, const PointPx&) = default;
};

struct SizeMm {
    double width_mm = 0.0;
    double height_mm = 0.0;
    friend bool operator==(const SizeMm&, const SizeMm&) = default;
};

struct SizePx {
    int width_px = 0;
    int height_px = 0;
    friend bool operator==(const SizePx&, const SizePx&) = default;
};

// Axis-parallel, in one face frame; empty when min > max.
struct BoxMm {
    PointMm min{1.0, 1.0};
    PointMm max{-1.0, -1.0};
    [[nodiscard]] bool empty() const { return min.x_mm > max.x_mm || min.y_mm > max.y_mm; }
};

}  // namespace tedge
