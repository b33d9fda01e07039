// Pixels per millimetre in the plane of the picture.
#pragma once

#include "tedge/base/error.hpp"
#include "tedge/imaging/chart.hpp"

namespace tedge::imaging {

struct PictureScale {
    double px_per_mm = 0.0;
    bool from_ticks = false;          // refined by the ruler's own ticks; otherwise by the two points alone
    double half_range_percent = 0.0;  // how far off it may be: a pixel's pointing at either end, or the ticks' own line
};

// From two points of a ruler that many millimetres apart, as a person points at them; where ticks tick_mm apart are
// seen along the line between them, their rhythm gives the scale. Errors: scale.points (outside, or under 20 px apart),
// scale.length (not above 0).
[[nodiscard]] Expected<PictureScale> scale_from_ruler(const ChartPicture& picture, const PointPx& from,
                                                      const PointPx& to, double length_mm, double tick_mm = 1.0);

// From the sides of the picture as measured and as seen: the mean of both. Errors: scale.length, scale.sides-disagree
// (by more than 2 %: the photograph is not square to the picture, or a size is wrong).
[[nodiscard]] Expected<PictureScale> scale_from_sides(double width_px, double height_px, const SizeMm& picture);

}  // namespace tedge::imaging
