// The figures of a difference map over places of the face, with the area they rest on.
#pragma once

#include <optional>
#include <vector>

#include "tedge/geometry/placement.hpp"
#include "tedge/geometry/region.hpp"
#include "tedge/imaging/difference_gates.hpp"

namespace tedge::imaging {

// 255 for pixels whose centre lies in the region (even-odd, as Region::outline says), otherwise 0; 1 channel.
// Errors: geometry.no-inverse (a corner cannot be found in the photograph).
[[nodiscard]] Expected<Raster8> region_mask(const Region& region, const Placement& face_from_map, SizePx size);

struct RegionFigures {
    std::optional<DifferenceStatistics> figures;  // of the pixels that count; nothing where none does
    double area_cm2 = 0.0;                        // of the place itself
    double counted_cm2 = 0.0;
    // In the order of reasons_not_counted. What lies beyond the pixels of the map is in `not_shown`.
    std::array<double, reasons_not_counted.size()> left_out_cm2{};
};

// `gated` as gate_differences gives it. Areas by the placement, pixel by pixel. Errors: geometry.no-inverse.
[[nodiscard]] Expected<RegionFigures> figures_in(const RasterF& map, const Raster8& gated, const Region& region,
                                                 const Placement& face_from_map);

}  // namespace tedge::imaging
