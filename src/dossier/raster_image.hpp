// Rasters as images of Qt.
#pragma once

#include <QImage>

#include "tedge/imaging/raster.hpp"

namespace tedge::dossier {

// One channel: grey; three: sRGB. Never with an alpha channel. Other counts are a programming error.
[[nodiscard]] QImage image_from(const imaging::Raster8& raster);

}  // namespace tedge::dossier
