// Steps of chart reading: refining where the chart lies, and telling which way up it is.
#pragma once

#include <optional>

#include "tedge/imaging/chart.hpp"

namespace tedge::imaging {

// Nominal: 46 of 52.5 units, the chart description in Debian's argyll-ref.
inline constexpr double nominal_patch_share = 46.0 / 52.5;

// The plane map whose grid's outer corners (patches of nominal size) lie at these points, in chart order.
[[nodiscard]] Expected<Homography> map_from_corners(const ChartCorners& corners_px, double patch_share);
[[nodiscard]] ChartCorners corners_of(const Homography& photo_from_chart, double patch_share);

// True when the whole grid of patches lies inside the picture.
[[nodiscard]] bool inside(const ChartPicture& picture, const Homography& photo_from_chart, double patch_share);

// The centre of a patch in the chart frame.
struct PatchCentre {
    double column = 0.0;
    double row = 0.0;
};
[[nodiscard]] inline PatchCentre patch_centre(std::size_t patch) {
    const std::size_t row = patch / chart_columns;
    return {static_cast<double>(patch % chart_columns), static_cast<double>(row)};
}

// Mean distance between neighbouring patch centres, px.
[[nodiscard]] double patch_distance_px(const Homography& photo_from_chart);

// Finds the patches' edges near where `rough` has them and fits the plane map through the patches' middles.
// Nothing when fewer than twelve patches show their edges.
[[nodiscard]] std::optional<ChartPlace> refined(const ChartPicture& picture, const Homography& rough);

[[nodiscard]] std::array<PatchReading, chart_patches> read_patches(const ChartPicture& picture,
                                                                   const ChartPlace& place);

// How unlike a chart these readings are: the root mean square of what a free 3×3 matrix leaves, over the spread of
// the reference, in shares of each patch's own light. Near 0.1 for a chart the right way up under even light, up to 0.5
// after a camera's tone curve, above 1.4 upside down.
[[nodiscard]] double unlikeness(const std::array<PatchReading, chart_patches>& patches);

}  // namespace tedge::imaging
