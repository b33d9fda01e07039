#include "geos_geometry.hpp"

#include <algorithm>

namespace tedge::geos {

GEOSContextHandle_t context() {
    struct Handle {
        GEOSContextHandle_t value = GEOS_init_r();
        Handle() = default;
        Handle(const Handle&) = delete;
        Handle& operator=(const Handle&) = delete;
        ~Handle() { GEOS_finish_r(value); }
    };
    thread_local const Handle handle;
    return handle.value;
}

GEOSCoordSequence* sequence(const std::vector<PointMm>& points, bool close) {
    const bool add_first = close && points.front() != points.back();
    const auto count = static_cast<unsigned>(points.size() + (add_first ? 1 : 0));
    GEOSCoordSequence* made = GEOSCoordSeq_create_r(context(), count, 2);
    for (unsigned i = 0; i < count; ++i) {
        const PointMm& p = points[i % points.size()];
        GEOSCoordSeq_setXY_r(context(), made, i, p.x_mm, p.y_mm);
    }
    return made;
}

std::vector<PointMm> points_of(const GEOSGeometry* line) {
    const GEOSCoordSequence* coordinates = GEOSGeom_getCoordSeq_r(context(), line);
    unsigned count = 0;
    GEOSCoordSeq_getSize_r(context(), coordinates, &count);
    std::vector<PointMm> points(count);
    for (unsigned i = 0; i < count; ++i) {
        GEOSCoordSeq_getXY_r(context(), coordinates, i, &points[i].x_mm, &points[i].y_mm);
    }
    return points;
}

Geometry moved(const GEOSGeometry* geometry, const PointMap& map) {
    const auto moved_points = [&](const GEOSGeometry* line) {
        std::vector<PointMm> points = points_of(line);
        for (PointMm& p : points) p = map(p);
        return points;
    };
    const auto ring = [&](const GEOSGeometry* from) {
        return GEOSGeom_createLinearRing_r(context(), sequence(moved_points(from), true));
    };
    switch (GEOSGeomTypeId_r(context(), geometry)) {
        case GEOS_POINT:
            return Geometry(GEOSGeom_createPoint_r(context(), sequence(moved_points(geometry), false)));
        case GEOS_LINESTRING:
            return Geometry(GEOSGeom_createLineString_r(context(), sequence(moved_points(geometry), false)));
        case GEOS_POLYGON: {
            const int count = GEOSGetNumInteriorRings_r(context(), geometry);
            std::vector<GEOSGeometry*> holes;
            holes.reserve(static_cast<std::size_t>(std::max(count, 0)));
            for (int i = 0; i < count; ++i) {
                holes.push_back(ring(GEOSGetInteriorRingN_r(context(), geometry, i)));
            }
            return Geometry(GEOSGeom_createPolygon_r(context(), ring(GEOSGetExteriorRing_r(context(), geometry)),
                                                     holes.data(), static_cast<unsigned>(holes.size())));
        }
        default: {
            const int count = GEOSGetNumGeometries_r(context(), geometry);
            std::vector<GEOSGeometry*> parts;
            parts.reserve(static_cast<std::size_t>(std::max(count, 0)));
            for (int i = 0; i < count; ++i) {
                parts.push_back(moved(GEOSGetGeometryN_r(context(), geometry, i), map).release());
            }
            return Geometry(GEOSGeom_createCollection_r(context(), GEOSGeomTypeId_r(context(), geometry), parts.data(),
                                                        static_cast<unsigned>(parts.size())));
        }
    }
}

}  // namespace tedge::geos
