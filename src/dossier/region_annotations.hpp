// Places on a picture as W3C Web Annotations (Web Annotation Data Model, W3C Recommendation 23 February 2017).
#pragma once

#include <optional>
#include <string>

#include "tedge/dossier/extract.hpp"
#include "tedge/geometry/coordinates.hpp"

namespace tedge::dossier {

// An AnnotationPage with an annotation for every finding, trial, inscription and facing that lies in the photograph;
// nothing when none does. The target is the picture file, its SvgSelector is in pixels of that file (corner of the
// top-left pixel at 0, 0, as SVG counts).
[[nodiscard]] std::optional<std::string> annotation_page(const Extract& extract, const casebook::Record& photograph,
                                                         const std::string& picture_file, SizePx file_size);

}  // namespace tedge::dossier
