#include "output.hpp"

#include "exif.hpp"
#include "tedge/imaging/write_picture.hpp"

namespace tedge::painter {
namespace {

// Exif orientation 6: the stored picture must be turned a quarter clockwise to be seen upright, so it is stored turned
// a quarter the other way.
imaging::Raster8 turned_for_storage(const imaging::Raster8& upright) {
    imaging::Raster8 stored(upright.height_px(), upright.width_px(), 3);
    for (int y = 0; y < stored.height_px(); ++y)
        for (int x = 0; x < stored.width_px(); ++x)
            for (int c = 0; c < 3; ++c) stored.at(x, y, c) = upright.at(upright.width_px() - 1 - y, x, c);
    return stored;
}

ExifWords words_of(const Photograph& p) {
    if (p.telephone) return {"Wren", "Wren Pocket 3", p.taken_at, p.orientation};
    return {"Larch", "Larch Studio 24", p.taken_at, p.orientation};
}

}  // namespace

Expected<std::string> encoded(const Photograph& photograph, const Pixels& pixels) {
    if (const auto* deep = std::get_if<imaging::Raster16>(&pixels))
        return imaging::encode_picture(*deep, imaging::PictureFormat::tiff);
    imaging::PictureWriteOptions options;
    options.jpeg_quality = photograph.jpeg_quality;
    options.jpeg_full_chroma = !photograph.telephone;
    const auto& upright = std::get<imaging::Raster8>(pixels);
    auto bytes = photograph.orientation == 6
                     ? imaging::encode_picture(turned_for_storage(upright), imaging::PictureFormat::jpeg, options)
                     : imaging::encode_picture(upright, imaging::PictureFormat::jpeg, options);
    if (bytes) bytes->insert(2, exif_segment(words_of(photograph)));  // directly behind the start marker
    return bytes;
}

}  // namespace tedge::painter
