// Places on a face: points, lines and multipolygons in millimetres, never pixels. Set operations and areas by GEOS.
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "tedge/base/error.hpp"
#include "tedge/geometry/coordinates.hpp"

namespace tedge {

// An immutable geometry in one face frame. Copies share it.
class Region {
public:
    Region();  // empty

    // A ring of at least three corners, closed by itself. Errors: region.too-few-corners, region.not-simple (it crosses
    // itself), region.not-finite.
    [[nodiscard]] static Expected<Region> polygon(const std::vector<PointMm>& corners);
    [[nodiscard]] static Expected<Region> rectangle(PointMm top_left, SizeMm size);
    [[nodiscard]] static Expected<Region> circle(PointMm centre, double radius_mm);  // 64 corners
    [[nodiscard]] static Expected<Region> point(PointMm point);
    [[nodiscard]] static Expected<Region> line(const std::vector<PointMm>& points);  // at least two

    // A GeoJSON geometry object (RFC 7946 shapes; the coordinates are mm in a face frame, not degrees).
    // Errors: region.malformed, region.not-simple, region.not-finite.
    [[nodiscard]] static Expected<Region> from_geojson(std::string_view text);
    [[nodiscard]] std::string to_geojson() const;  // coordinates as they were given, up to 1e-6 mm

    [[nodiscard]] bool empty() const;
    [[nodiscard]] double area_mm2() const;
    [[nodiscard]] double length_mm() const;  // of lines; the perimeter of polygons
    [[nodiscard]] BoxMm bounds() const;
    [[nodiscard]] PointMm label_point() const;  // inside the shape where it has an inside
    [[nodiscard]] bool contains(PointMm point) const;
    [[nodiscard]] double distance_mm(const Region& other) const;  // 0 where they meet; infinity where one is empty
    [[nodiscard]] bool within_margin(const Region& other, double margin_mm) const {
        return distance_mm(other) <= margin_mm;
    }

    [[nodiscard]] Region united(const Region& other) const;
    [[nodiscard]] Region intersected(const Region& other) const;
    [[nodiscard]] Region without(const Region& other) const;
    [[nodiscard]] Region grown(double margin_mm) const;

    // Each corner moved by a map, for instance from verso to recto or from photograph to face.
    [[nodiscard]] Region mapped(const std::function<PointMm(PointMm)>& map) const;

    // For painting: rings (closed; outer rings and holes alike, fill by even-odd), open lines, and points.
    struct Outline {
        std::vector<std::vector<PointMm>> rings;
        std::vector<std::vector<PointMm>> lines;
        std::vector<PointMm> points;
    };
    [[nodiscard]] Outline outline() const;

private:
    struct Shape;
    explicit Region(std::shared_ptr<const Shape> shape);
    std::shared_ptr<const Shape> shape_;
};

}  // namespace tedge
