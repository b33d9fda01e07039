// A geometry as GeoJSON (RFC 7946), in millimetres to six decimals: written here and not by GEOS, whose numbers come
// with as many digits as binary fractions need.
#pragma once

#include <geos_c.h>

#include <string>

namespace tedge {

[[nodiscard]] std::string geojson_text(const GEOSGeometry* geometry);

}  // namespace tedge
