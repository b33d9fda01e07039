// What regions need of GEOS: a handle for this thread, geometries that free themselves, corners in and out.
#pragma once

#include <geos_c.h>

#include <functional>
#include <memory>
#include <vector>

#include "tedge/geometry/coordinates.hpp"

namespace tedge::geos {

// GEOS keeps its state in a handle that one thread at a time may use.
[[nodiscard]] GEOSContextHandle_t context();

struct DestroyGeometry {
    void operator()(GEOSGeometry* geometry) const { GEOSGeom_destroy_r(context(), geometry); }
};
using Geometry = std::unique_ptr<GEOSGeometry, DestroyGeometry>;

// Owned by whatever geometry is made of it. `close` repeats the first point at the end where it is not there.
[[nodiscard]] GEOSCoordSequence* sequence(const std::vector<PointMm>& points, bool close);
// Of a point, a line or a ring.
[[nodiscard]] std::vector<PointMm> points_of(const GEOSGeometry* line);

using PointMap = std::function<PointMm(PointMm)>;
// The same geometry with every corner moved (GEOS offers this from 3.12 on only).
[[nodiscard]] Geometry moved(const GEOSGeometry* geometry, const PointMap& map);

}  // namespace tedge::geos
