#include <png.h>
#include <tiffio.h>

#include <algorithm>
#include <cmath>
#include <cstring>
#include <memory>
#include <stdexcept>

#include "sample_files.hpp"

namespace tedge::imaging::samples {
namespace {

using Rows = std::vector<std::vector<std::uint8_t>>;

struct CloseTiff {
    void operator()(TIFF* tiff) const { TIFFClose(tiff); }
};
using Tiff = std::unique_ptr<TIFF, CloseTiff>;

Tiff opened(const std::filesystem::path& file, const std::string& mode) {
    Tiff tiff(TIFFOpen(file.c_str(), mode.c_str()));
    if (!tiff) throw std::runtime_error("a sample file could not be made");
    return tiff;
}

void describe(TIFF* tiff, int width, int height, const TiffMake& make) {
    TIFFSetField(tiff, TIFFTAG_IMAGEWIDTH, width);
    TIFFSetField(tiff, TIFFTAG_IMAGELENGTH, height);
    TIFFSetField(tiff, TIFFTAG_BITSPERSAMPLE, make.bits);
    TIFFSetField(tiff, TIFFTAG_SAMPLESPERPIXEL, make.samples);
    TIFFSetField(tiff, TIFFTAG_PHOTOMETRIC, make.photometric);
    TIFFSetField(tiff, TIFFTAG_PLANARCONFIG, make.planes_apart ? PLANARCONFIG_SEPARATE : PLANARCONFIG_CONTIG);
    TIFFSetField(tiff, TIFFTAG_COMPRESSION, make.compression);
    if (make.predictor != 1) TIFFSetField(tiff, TIFFTAG_PREDICTOR, make.predictor);
    if (make.compression == COMPRESSION_JPEG) {
        TIFFSetField(tiff, TIFFTAG_JPEGQUALITY, 95);
        TIFFSetField(tiff, TIFFTAG_JPEGCOLORMODE, JPEGCOLORMODE_RGB);
    }
    TIFFSetField(tiff, TIFFTAG_SAMPLEFORMAT, make.sample_format);
    TIFFSetField(tiff, TIFFTAG_ORIENTATION, make.orientation);
    if (make.alpha != 0) {
        const auto kind = static_cast<std::uint16_t>(make.alpha);
        TIFFSetField(tiff, TIFFTAG_EXTRASAMPLES, 1, &kind);
    }
    if (!make.colour_map.empty()) {
        const std::size_t third = make.colour_map.size() / 3;
        TIFFSetField(tiff, TIFFTAG_COLORMAP, make.colour_map.data(), make.colour_map.data() + third,
                     make.colour_map.data() + 2 * third);
    }
    if (!make.icc.empty())
        TIFFSetField(tiff, TIFFTAG_ICCPROFILE, static_cast<std::uint32_t>(make.icc.size()), make.icc.data());
    if (make.tile > 0) {
        TIFFSetField(tiff, TIFFTAG_TILEWIDTH, make.tile);
        TIFFSetField(tiff, TIFFTAG_TILELENGTH, make.tile);
    } else {
        TIFFSetField(tiff, TIFFTAG_ROWSPERSTRIP, make.compression == COMPRESSION_JPEG ? 16 : 7);
    }
}

// One plane of interleaved rows.
std::vector<std::uint8_t> plane_of(const std::vector<std::uint8_t>& row, int width, int plane, const TiffMake& make) {
    const auto size = static_cast<std::size_t>(make.bits / 8);
    std::vector<std::uint8_t> out(static_cast<std::size_t>(width) * size);
    for (std::size_t x = 0; x < static_cast<std::size_t>(width); ++x)
        std::copy_n(row.data() + (x * static_cast<std::size_t>(make.samples) + static_cast<std::size_t>(plane)) * size,
                    size, out.data() + x * size);
    return out;
}

void write_plane_strips(TIFF* tiff, const Rows& rows, int plane) {
    for (std::size_t y = 0; y < rows.size(); ++y) {
        std::vector<std::uint8_t> row = rows[y];
        TIFFWriteScanline(tiff, row.data(), static_cast<std::uint32_t>(y), static_cast<std::uint16_t>(plane));
    }
}

void write_plane_tiles(TIFF* tiff, const Rows& rows, int plane, int tile_side, std::size_t bytes_per_pixel) {
    const auto side = static_cast<std::size_t>(tile_side);
    std::vector<std::uint8_t> tile(side * side * bytes_per_pixel);
    for (std::size_t y = 0; y < rows.size(); y += side)
        for (std::size_t x = 0; x * bytes_per_pixel < rows[0].size(); x += side) {
            std::ranges::fill(tile, std::uint8_t{0});
            const std::size_t bytes = std::min(side * bytes_per_pixel, rows[0].size() - x * bytes_per_pixel);
            for (std::size_t row = 0; row < std::min(side, rows.size() - y); ++row)
                std::copy_n(rows[y + row].data() + x * bytes_per_pixel, bytes,
                            tile.data() + row * side * bytes_per_pixel);
            TIFFWriteTile(tiff, tile.data(), static_cast<std::uint32_t>(x), static_cast<std::uint32_t>(y), 0,
                          static_cast<std::uint16_t>(plane));
        }
}

void write_plane(TIFF* tiff, const Rows& rows, int plane, const TiffMake& make) {
    const int samples = make.planes_apart ? 1 : make.samples;
    if (make.tile == 0) return write_plane_strips(tiff, rows, plane);
    write_plane_tiles(tiff, rows, plane, make.tile, static_cast<std::size_t>(samples * make.bits / 8));
}

}  // namespace

std::string png_from_rows(int width, int height, const Rows& rows, const PngMake& make) {
    std::string out;
    png_structp png = png_create_write_struct(PNG_LIBPNG_VER_STRING, nullptr, nullptr, nullptr);
    png_infop info = png_create_info_struct(png);
    png_set_write_fn(
        png, &out,
        [](png_structp p, png_bytep from, std::size_t count) {
            static_cast<std::string*>(png_get_io_ptr(p))->append(reinterpret_cast<char*>(from), count);
        },
        nullptr);
    png_set_IHDR(png, info, static_cast<png_uint_32>(width), static_cast<png_uint_32>(height), make.bits,
                 make.colour_type, make.interlaced ? PNG_INTERLACE_ADAM7 : PNG_INTERLACE_NONE,
                 PNG_COMPRESSION_TYPE_DEFAULT, PNG_FILTER_TYPE_DEFAULT);
    if (!make.palette.empty())
        png_set_PLTE(png, info, reinterpret_cast<png_const_colorp>(make.palette.data()),
                     static_cast<int>(make.palette.size() / 3));
    if (!make.palette_alpha.empty())
        png_set_tRNS(png, info, make.palette_alpha.data(), static_cast<int>(make.palette_alpha.size()), nullptr);
    if (make.gamma > 0.0) png_set_gAMA(png, info, make.gamma);
    std::vector<std::uint8_t> exif = make.exif;
    if (!exif.empty()) png_set_eXIf_1(png, info, static_cast<png_uint_32>(exif.size()), exif.data());
    Rows copy = rows;
    std::vector<png_bytep> pointers;
    for (auto& row : copy) pointers.push_back(row.data());
    png_set_rows(png, info, pointers.data());
    png_write_png(png, info, PNG_TRANSFORM_IDENTITY, nullptr);
    png_destroy_write_struct(&png, &info);
    return out;
}

namespace {

void write_page(TIFF* tiff, int width, int height, const Rows& rows, const TiffMake& make) {
    describe(tiff, width, height, make);
    if (!make.planes_apart) return write_plane(tiff, rows, 0, make);
    for (int plane = 0; plane < make.samples; ++plane) {
        Rows alone;
        for (const auto& row : rows) alone.push_back(plane_of(row, width, plane, make));
        write_plane(tiff, alone, plane, make);
    }
}

}  // namespace

void write_tiff(const std::filesystem::path& file, int width, int height, const Rows& rows, const TiffMake& make) {
    const Tiff tiff = opened(file, std::string(make.big ? "w8" : "w") + (make.big_endian ? "b" : ""));
    for (int page = 0; page < make.pages; ++page) {
        write_page(tiff.get(), width, height, rows, make);
        if (page + 1 < make.pages) TIFFWriteDirectory(tiff.get());
    }
}

// DNG 1.4 by its specification: matrix ColorMatrix1 takes XYZ to camera; here that of linear sRGB (D65), so the
// camera's red, green and blue are sRGB's. Left half at a quarter of white, right half at a half.
void write_dng(const std::filesystem::path& file, int width, int height, int orientation) {
    write_dng(file, width, height, DngMake{.orientation = orientation});
}

void write_dng(const std::filesystem::path& file, int width, int height, const DngMake& make) {
    const Tiff tiff = opened(file, "w");
    TIFFSetField(tiff.get(), TIFFTAG_SUBFILETYPE, 0);
    TIFFSetField(tiff.get(), TIFFTAG_IMAGEWIDTH, width);
    TIFFSetField(tiff.get(), TIFFTAG_IMAGELENGTH, height);
    TIFFSetField(tiff.get(), TIFFTAG_BITSPERSAMPLE, 16);
    TIFFSetField(tiff.get(), TIFFTAG_SAMPLESPERPIXEL, 1);
    TIFFSetField(tiff.get(), TIFFTAG_PHOTOMETRIC, 32803);
    TIFFSetField(tiff.get(), TIFFTAG_PLANARCONFIG, PLANARCONFIG_CONTIG);
    TIFFSetField(tiff.get(), TIFFTAG_ROWSPERSTRIP, height);
    TIFFSetField(tiff.get(), TIFFTAG_ORIENTATION, make.orientation);
    TIFFSetField(tiff.get(), TIFFTAG_MAKE, "Invented");
    TIFFSetField(tiff.get(), TIFFTAG_MODEL, "Plate One");
    TIFFSetField(tiff.get(), TIFFTAG_UNIQUECAMERAMODEL, "Invented Plate One");
    const std::uint8_t version[4] = {1, 4, 0, 0};
    const std::uint16_t repeat[2] = {2, 2};
    const std::uint8_t pattern[4] = {0, 1, 1, 2};
    const float matrix[9] = {3.2404542F, -1.5371385F, -0.4985314F, -0.9692660F, 1.8760108F,
                             0.0415560F, 0.0556434F,  -0.2040259F, 1.0572252F};
    const float neutral[3] = {1.0F, 1.0F, 1.0F};
    const std::uint32_t white = 40000;
    TIFFSetField(tiff.get(), TIFFTAG_DNGVERSION, version);
    TIFFSetField(tiff.get(), TIFFTAG_CFAREPEATPATTERNDIM, repeat);
    TIFFSetField(tiff.get(), TIFFTAG_CFAPATTERN, 4, pattern);
    TIFFSetField(tiff.get(), TIFFTAG_COLORMATRIX1, 9, matrix);
    TIFFSetField(tiff.get(), TIFFTAG_CALIBRATIONILLUMINANT1, 21);
    if (make.white_balance) TIFFSetField(tiff.get(), TIFFTAG_ASSHOTNEUTRAL, 3, neutral);
    TIFFSetField(tiff.get(), TIFFTAG_WHITELEVEL, 1, &white);
    std::uint32_t seed = 7;
    for (int y = 0; y < height; ++y) {
        std::vector<std::uint16_t> row(static_cast<std::size_t>(width));
        for (std::size_t x = 0; x < row.size(); ++x) {
            seed = seed * 1664525U + 1013904223U;
            const double other = 1.0 + make.noise * (static_cast<double>(seed >> 8U) / (1U << 23U) - 1.0);
            const double tint = y % 2 == 0 && x % 2 == 0 ? make.red : 1.0;
            const double light = (x < row.size() / 2 ? make.left : make.right) * other * tint;
            row[x] = static_cast<std::uint16_t>(std::lround(std::min(1.0, light) * white));
        }
        TIFFWriteScanline(tiff.get(), row.data(), static_cast<std::uint32_t>(y), 0);
    }
}

}  // namespace tedge::imaging::samples
