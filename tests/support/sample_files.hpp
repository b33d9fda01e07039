// Small pictures and files of every format, made on the spot by the reference libraries themselves.
#pragma once

#include <cstdint>
#include <filesystem>
#include <string>
#include <vector>

#include "tedge/imaging/raster.hpp"

namespace tedge::imaging::samples {

// Smooth in both directions, every channel different, all corners different.
[[nodiscard]] Raster8 smooth8(int width, int height, int channels);
// Every sample its own value as far as 16 bits reach: any loss shows.
[[nodiscard]] Raster16 exact16(int width, int height, int channels);
[[nodiscard]] Raster8 noisy8(int width, int height, int channels);

// Plainly, without flushing to the disk: tests write thousands.
void save(const std::filesystem::path& file, const std::string& bytes);

[[nodiscard]] int largest_difference(const Raster8& a, const Raster8& b);  // 999 when sizes differ

[[nodiscard]] std::string webp_bytes(const Raster8& rgb_or_rgba);  // lossless
[[nodiscard]] std::string webp_bytes(const Raster8& rgb_or_rgba, float quality);
[[nodiscard]] std::string heic_bytes(const Raster8& rgb, const std::vector<std::uint8_t>& icc = {});
// Inks 0 = none to 255 = full, stored upside down with an Adobe marker as printers' programs do.
[[nodiscard]] std::string cmyk_jpeg_bytes(const Raster8& cmyk, const std::vector<std::uint8_t>& icc);
[[nodiscard]] std::string progressive_jpeg_bytes(const Raster8& rgb);
// A progressive file that says the same again and again: as many passes over the picture as are asked for, at least 2.
[[nodiscard]] std::string repeating_jpeg_bytes(const Raster8& grey, int passes);

struct PngMake {
    int colour_type = 2;  // as PNG numbers them: 0 grey, 2 RGB, 3 palette, 4 grey and alpha, 6 RGB and alpha
    int bits = 8;
    bool interlaced = false;
    double gamma = 0.0;                   // gAMA chunk
    std::vector<std::uint8_t> palette{};  // RGB triples
    std::vector<std::uint8_t> palette_alpha{};
    std::vector<std::uint8_t> exif{};
};
// rows: packed as PNG wants them, 16-bit samples big-endian.
[[nodiscard]] std::string png_from_rows(int width, int height, const std::vector<std::vector<std::uint8_t>>& rows,
                                        const PngMake& make);

struct TiffMake {
    int bits = 8;
    int samples = 3;
    int photometric = 2;  // RGB
    bool planes_apart = false;
    int tile = 0;  // tile side, 0: strips
    int compression = 1;
    int sample_format = 1;
    int orientation = 1;
    int alpha = 0;                            // EXTRASAMPLES value when there is one sample more than colours
    std::vector<std::uint16_t> colour_map{};  // red, green, blue, each 2^bits long
    std::vector<std::uint8_t> icc{};
    bool big = false;
    bool big_endian = false;
    int predictor = 1;  // 2: differences of whole numbers, 3: of floating-point numbers
    int pages = 1;      // the same picture over again
};
// Rows of interleaved samples in native byte order, packed for fewer than 8 bits.
void write_tiff(const std::filesystem::path& file, int width, int height,
                const std::vector<std::vector<std::uint8_t>>& rows, const TiffMake& make);
template <class T>
[[nodiscard]] std::vector<std::vector<std::uint8_t>> rows_of(const Raster<T>& raster) {
    std::vector<std::vector<std::uint8_t>> rows;
    for (int y = 0; y < raster.height_px(); ++y) {
        const auto* first = reinterpret_cast<const std::uint8_t*>(raster.row(y));
        rows.emplace_back(first, first + raster.row_samples() * sizeof(T));
    }
    return rows;
}

// A 16 bit mosaic with DNG tags, uncompressed: grey patches of known value under a camera whose primaries are sRGB.
struct DngMake {
    int orientation = 1;
    double left = 0.25, right = 0.5;  // light of either half, of the white level
    double noise = 0.0;               // up to so much of the light either way
    double red = 1.0;                 // of the red pixels, times the light
    bool white_balance = true;        // as shot
};
void write_dng(const std::filesystem::path& file, int width, int height, const DngMake& make);
void write_dng(const std::filesystem::path& file, int width, int height, int orientation);

// The smallest Exif block (TIFF structure) with an orientation; and the same put into a JPEG behind its first marker.
[[nodiscard]] std::vector<std::uint8_t> exif_with_orientation(int orientation);
[[nodiscard]] std::string with_exif(const std::string& jpeg, const std::vector<std::uint8_t>& exif);

// Profiles by Little CMS.
[[nodiscard]] std::vector<std::uint8_t> wide_gamut_profile();  // gamma 2.2, green far out
[[nodiscard]] std::vector<std::uint8_t> swapped_profile();     // red and blue primaries changed over, sRGB curve
[[nodiscard]] std::vector<std::uint8_t> inks_profile();        // CMYK by a simple mixing rule
[[nodiscard]] std::vector<std::uint8_t> small_inks_profile();  // the same by two steps an ink: some hundred bytes
[[nodiscard]] std::vector<std::uint8_t> table_profile();       // RGB by a table of colours and curves
[[nodiscard]] std::vector<std::uint8_t> library_srgb_profile();

}  // namespace tedge::imaging::samples
