#include "raster_image.hpp"

#include <cstring>
#include <stdexcept>

namespace tedge::dossier {

QImage image_from(const imaging::Raster8& raster) {
    const bool grey = raster.channels() == 1;
    if (!grey && raster.channels() != 3) throw std::invalid_argument("image_from: one or three channels");
    QImage image(raster.width_px(), raster.height_px(), grey ? QImage::Format_Grayscale8 : QImage::Format_RGB888);
    for (int y = 0; y < raster.height_px(); ++y) std::memcpy(image.scanLine(y), raster.row(y), raster.row_samples());
    return grey ? image : image.convertToFormat(QImage::Format_RGB32);
}

}  // namespace tedge::dossier
