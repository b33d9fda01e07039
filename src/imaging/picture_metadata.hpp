// What the camera wrote beside the pixels, by Exiv2. A file without any, or with a broken part, is no failure.
#pragma once

#include <cstdint>
#include <filesystem>
#include <span>

#include "tedge/imaging/picture.hpp"

namespace tedge::imaging {

// Fills what the file says and leaves the rest as it is.
void add_file_metadata(const std::filesystem::path& file, PictureMetadata& metadata);

// The same from bare Exif bytes (a TIFF structure, as in PNG's eXIf chunk).
void add_exif_bytes(std::span<const std::uint8_t> exif, PictureMetadata& metadata);

}  // namespace tedge::imaging
