// Pictures to files: the same picture gives the same bytes, and the file is there in full or not at all.
#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include "tedge/imaging/picture.hpp"

namespace tedge::imaging {

enum class PictureFormat { jpeg, png, tiff };

struct PictureWriteOptions {
    int jpeg_quality = 92;         // 1 to 100
    bool jpeg_full_chroma = true;  // 4:4:4; otherwise 4:2:0
    int png_compression = 3;       // zlib level 0 to 9
    bool tiff_deflate = false;     // otherwise uncompressed
    std::optional<double> pixels_per_inch{};
    // ASCII; a comment of a JPEG, the description of a PNG or TIFF. Read again as PictureMetadata::description.
    std::string description{};
};

// The picture's pixels, profile and options; nothing else of its metadata goes in. A picture without profile is marked
// as sRGB. JPEG takes 8 bits: 16-bit pixels are rounded. Errors: picture.unwritable (a side above 65,500 px for JPEG,
// an empty picture, options out of range), picture.no-memory.
[[nodiscard]] Expected<std::string> encode_picture(const Picture& picture, PictureFormat format,
                                                   const PictureWriteOptions& options = {});
[[nodiscard]] Expected<std::string> encode_picture(const Raster8& pixels, PictureFormat format,
                                                   const PictureWriteOptions& options = {});
[[nodiscard]] Expected<std::string> encode_picture(const Raster16& pixels, PictureFormat format,
                                                   const PictureWriteOptions& options = {});

// Encodes and writes durably. Errors: as above and those of files.hpp.
[[nodiscard]] Expected<void> write_picture(const std::filesystem::path& file, const Picture& picture,
                                           PictureFormat format, const PictureWriteOptions& options = {});
[[nodiscard]] Expected<void> write_picture(const std::filesystem::path& file, const Raster8& pixels,
                                           PictureFormat format, const PictureWriteOptions& options = {});
[[nodiscard]] Expected<void> write_picture(const std::filesystem::path& file, const Raster16& pixels,
                                           PictureFormat format, const PictureWriteOptions& options = {});

// By the ending of the name: .jpg .jpeg .png .tif .tiff. Errors: picture.unknown-ending.
[[nodiscard]] Expected<PictureFormat> format_for(const std::filesystem::path& file);

}  // namespace tedge::imaging
