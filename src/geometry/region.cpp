#include "tedge/geometry/region.hpp"

#include <cmath>
#include <limits>
#include <numbers>
#include <utility>

#include "geojson_text.hpp"
#include "geos_geometry.hpp"

namespace tedge {

namespace {

using geos::context;
using geos::Geometry;
using geos::moved;
using geos::points_of;
using geos::sequence;

bool finite(const std::vector<PointMm>& points) {
    for (const PointMm& p : points) {
        if (!std::isfinite(p.x_mm) || !std::isfinite(p.y_mm)) return false;
    }
    return true;
}

std::unexpected<Error> not_finite() {
    return fail("region.not-finite", "A corner of the region is not a number.", "Draw the region again.");
}

void collect(const GEOSGeometry* geometry, Region::Outline& outline) {
    switch (GEOSGeomTypeId_r(context(), geometry)) {
        case GEOS_POINT:
            if (GEOSisEmpty_r(context(), geometry) == 0) outline.points.push_back(points_of(geometry).front());
            return;
        case GEOS_LINESTRING:
        case GEOS_LINEARRING:
            outline.lines.push_back(points_of(geometry));
            return;
        case GEOS_POLYGON: {
            if (GEOSisEmpty_r(context(), geometry) != 0) return;
            outline.rings.push_back(points_of(GEOSGetExteriorRing_r(context(), geometry)));
            const int holes = GEOSGetNumInteriorRings_r(context(), geometry);
            for (int i = 0; i < holes; ++i) {
                outline.rings.push_back(points_of(GEOSGetInteriorRingN_r(context(), geometry, i)));
            }
            return;
        }
        default:
            for (int i = 0; i < GEOSGetNumGeometries_r(context(), geometry); ++i) {
                collect(GEOSGetGeometryN_r(context(), geometry, i), outline);
            }
    }
}

}  // namespace

struct Region::Shape {
    Geometry geometry;
};

Region::Region(std::shared_ptr<const Shape> shape) : shape_(std::move(shape)) {}

Region::Region()
    : shape_(std::make_shared<Shape>(Geometry(GEOSGeom_createEmptyCollection_r(context(), GEOS_MULTIPOLYGON)))) {}

Expected<Region> Region::polygon(const std::vector<PointMm>& corners) {
    if (corners.size() < 3) {
        return fail("region.too-few-corners", "A region needs at least three corners.", "Add corners until it closes.");
    }
    if (!finite(corners)) return not_finite();
    Geometry made(GEOSGeom_createPolygon_r(context(), GEOSGeom_createLinearRing_r(context(), sequence(corners, true)),
                                           nullptr, 0));
    if (!made || GEOSisValid_r(context(), made.get()) != 1) {
        return fail("region.not-simple", "The outline crosses itself.", "Draw it so that no two sides cross.");
    }
    return Region(std::make_shared<Shape>(std::move(made)));
}

Expected<Region> Region::rectangle(PointMm top_left, SizeMm size) {
    const double right = top_left.x_mm + size.width_mm;
    const double bottom = top_left.y_mm + size.height_mm;
    return polygon({top_left, {right, top_left.y_mm}, {right, bottom}, {top_left.x_mm, bottom}});
}

Expected<Region> Region::circle(PointMm centre, double radius_mm) {
    constexpr int corners = 64;
    std::vector<PointMm> ring;
    for (int i = 0; i < corners; ++i) {
        const double angle = 2.0 * std::numbers::pi * i / corners;
        ring.push_back({centre.x_mm + radius_mm * std::cos(angle), centre.y_mm + radius_mm * std::sin(angle)});
    }
    return polygon(ring);
}

Expected<Region> Region::point(PointMm point) {
    if (!finite({point})) return not_finite();
    return Region(std::make_shared<Shape>(Geometry(GEOSGeom_createPointFromXY_r(context(), point.x_mm, point.y_mm))));
}

Expected<Region> Region::line(const std::vector<PointMm>& points) {
    if (points.size() < 2) {
        return fail("region.too-few-corners", "A line needs at least two points.", "Add a second point.");
    }
    if (!finite(points)) return not_finite();
    return Region(std::make_shared<Shape>(Geometry(GEOSGeom_createLineString_r(context(), sequence(points, false)))));
}

Expected<Region> Region::from_geojson(std::string_view text) {
    GEOSGeoJSONReader* reader = GEOSGeoJSONReader_create_r(context());
    Geometry read(GEOSGeoJSONReader_readGeometry_r(context(), reader, std::string(text).c_str()));
    GEOSGeoJSONReader_destroy_r(context(), reader);
    if (!read) {
        return fail("region.malformed", "The region is not a GeoJSON geometry.",
                    "Write it as {\"type\":\"Polygon\",\"coordinates\":[[[x,y],…]]} in millimetres.");
    }
    Region region(std::make_shared<Shape>(std::move(read)));
    const Outline outline = region.outline();
    for (const auto* paths : {&outline.rings, &outline.lines}) {
        for (const auto& path : *paths) {
            if (!finite(path)) return not_finite();
        }
    }
    if (!finite(outline.points)) return not_finite();
    if (GEOSisValid_r(context(), region.shape_->geometry.get()) != 1) {
        return fail("region.not-simple", "The outline crosses itself.", "Draw it so that no two sides cross.");
    }
    return region;
}

std::string Region::to_geojson() const {
    return geojson_text(shape_->geometry.get());
}

bool Region::empty() const {
    return GEOSisEmpty_r(context(), shape_->geometry.get()) != 0;
}

double Region::area_mm2() const {
    double area = 0.0;
    GEOSArea_r(context(), shape_->geometry.get(), &area);
    return area;
}

double Region::length_mm() const {
    double length = 0.0;
    GEOSLength_r(context(), shape_->geometry.get(), &length);
    return length;
}

BoxMm Region::bounds() const {
    BoxMm box;
    if (empty()) return box;
    GEOSGeom_getExtent_r(context(), shape_->geometry.get(), &box.min.x_mm, &box.min.y_mm, &box.max.x_mm, &box.max.y_mm);
    return box;
}

PointMm Region::label_point() const {
    if (empty()) return {};
    const Geometry inside(GEOSPointOnSurface_r(context(), shape_->geometry.get()));
    return inside ? points_of(inside.get()).front() : bounds().min;
}

bool Region::contains(PointMm point) const {
    const Geometry spot(GEOSGeom_createPointFromXY_r(context(), point.x_mm, point.y_mm));
    return GEOSIntersects_r(context(), shape_->geometry.get(), spot.get()) == 1;
}

double Region::distance_mm(const Region& other) const {
    if (empty() || other.empty()) return std::numeric_limits<double>::infinity();
    double distance = 0.0;
    GEOSDistance_r(context(), shape_->geometry.get(), other.shape_->geometry.get(), &distance);
    return distance;
}

Region Region::united(const Region& other) const {
    return Region(std::make_shared<Shape>(
        Geometry(GEOSUnion_r(context(), shape_->geometry.get(), other.shape_->geometry.get()))));
}

Region Region::intersected(const Region& other) const {
    return Region(std::make_shared<Shape>(
        Geometry(GEOSIntersection_r(context(), shape_->geometry.get(), other.shape_->geometry.get()))));
}

Region Region::without(const Region& other) const {
    return Region(std::make_shared<Shape>(
        Geometry(GEOSDifference_r(context(), shape_->geometry.get(), other.shape_->geometry.get()))));
}

Region Region::grown(double margin_mm) const {
    constexpr int segments_per_quarter = 16;
    return Region(std::make_shared<Shape>(
        Geometry(GEOSBuffer_r(context(), shape_->geometry.get(), margin_mm, segments_per_quarter))));
}

Region Region::mapped(const std::function<PointMm(PointMm)>& map) const {
    return Region(std::make_shared<Shape>(moved(shape_->geometry.get(), map)));
}

Region::Outline Region::outline() const {
    Outline found;
    collect(shape_->geometry.get(), found);
    return found;
}

}  // namespace tedge
