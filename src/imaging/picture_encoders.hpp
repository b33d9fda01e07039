// Pixels to bytes, one encoder per format; empty when the library refuses.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>

#include "tedge/imaging/raster.hpp"

namespace tedge::imaging {

struct JpegOptions {
    int quality = 92;
    bool full_chroma = true;
    std::span<const std::uint8_t> icc_profile{};
    std::optional<double> pixels_per_inch{};
    std::string description{};
};

// 1 or 3 channels. `from_row` and `rows`, `from_x` and `columns` cut a part out.
struct PixelBlock {
    const Raster8* pixels = nullptr;
    int x = 0;
    int y = 0;
    int width = 0;
    int height = 0;
};
[[nodiscard]] PixelBlock whole(const Raster8& pixels);
[[nodiscard]] std::string jpeg_bytes(const PixelBlock& block, const JpegOptions& options);

struct PngOptions {
    int compression = 3;
    bool srgb_chunk = true;  // when there is no profile
    std::span<const std::uint8_t> icc_profile{};
    std::optional<double> pixels_per_inch{};
    std::string description{};
};
[[nodiscard]] std::string png_bytes(const Raster8& pixels, const PngOptions& options);
[[nodiscard]] std::string png_bytes(const Raster16& pixels, const PngOptions& options);

struct TiffOptions {
    bool deflate = false;
    std::span<const std::uint8_t> icc_profile{};
    std::optional<double> pixels_per_inch{};
    std::string description{};
};
[[nodiscard]] std::string tiff_bytes(const Raster8& pixels, const TiffOptions& options);
[[nodiscard]] std::string tiff_bytes(const Raster16& pixels, const TiffOptions& options);

}  // namespace tedge::imaging
