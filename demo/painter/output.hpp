// Photographs to files, with the few words a camera writes into them.
#pragma once

#include <filesystem>
#include <variant>

#include "photographs.hpp"
#include "tedge/base/error.hpp"

namespace tedge::painter {

using Pixels = std::variant<imaging::Raster8, imaging::Raster16>;

// The file's bytes: JPEG with Exif (camera, time, orientation; stored pixels turned to suit), or 16-bit TIFF.
[[nodiscard]] Expected<std::string> encoded(const Photograph& photograph, const Pixels& pixels);

}  // namespace tedge::painter
