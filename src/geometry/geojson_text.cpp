#include "geojson_text.hpp"

#include <fmt/format.h>

#include <cmath>

#include "geos_geometry.hpp"
#include "tedge/base/number_text.hpp"

namespace tedge {

namespace {

using geos::context;
using geos::points_of;

std::string coordinate_text(PointMm p) {
    const auto number = [](double value) { return format_number(std::round(value * 1e6) / 1e6); };
    return fmt::format("[{},{}]", number(p.x_mm), number(p.y_mm));
}

std::string path_text(const GEOSGeometry* path) {
    std::string text = "[";
    for (const PointMm& p : points_of(path)) text += (text.size() > 1 ? "," : "") + coordinate_text(p);
    return text + "]";
}

std::string polygon_text(const GEOSGeometry* polygon) {
    if (GEOSisEmpty_r(context(), polygon) != 0) return "[]";
    std::string text = "[" + path_text(GEOSGetExteriorRing_r(context(), polygon));
    for (int i = 0; i < GEOSGetNumInteriorRings_r(context(), polygon); ++i) {
        text += "," + path_text(GEOSGetInteriorRingN_r(context(), polygon, i));
    }
    return text + "]";
}

template <class PartText>
std::string parts_text(const GEOSGeometry* geometry, PartText part_text) {
    std::string text = "[";
    for (int i = 0; i < GEOSGetNumGeometries_r(context(), geometry); ++i) {
        text += (i > 0 ? "," : "") + part_text(GEOSGetGeometryN_r(context(), geometry, i));
    }
    return text + "]";
}

std::string point_text(const GEOSGeometry* point) {
    return coordinate_text(points_of(point).front());
}

}  // namespace

std::string geojson_text(const GEOSGeometry* geometry) {
    const auto object = [](std::string_view type, const std::string& coordinates) {
        return fmt::format(R"({{"type":"{}","coordinates":{}}})", type, coordinates);
    };
    switch (GEOSGeomTypeId_r(context(), geometry)) {
        case GEOS_POINT:
            return object("Point", GEOSisEmpty_r(context(), geometry) != 0 ? "[]" : point_text(geometry));
        case GEOS_LINESTRING:
            return object("LineString", path_text(geometry));
        case GEOS_POLYGON:
            return object("Polygon", polygon_text(geometry));
        case GEOS_MULTIPOINT:
            return object("MultiPoint", parts_text(geometry, point_text));
        case GEOS_MULTILINESTRING:
            return object("MultiLineString", parts_text(geometry, path_text));
        case GEOS_MULTIPOLYGON:
            return object("MultiPolygon", parts_text(geometry, polygon_text));
        default:
            return fmt::format(R"({{"type":"GeometryCollection","geometries":{}}})",
                               parts_text(geometry, geojson_text));
    }
}

}  // namespace tedge
