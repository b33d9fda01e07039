#include "sample_files.hpp"

#include <cstdio>
// jpeglib.h needs <cstdio> before it.
#include <jpeglib.h>
#include <libheif/heif.h>
#include <webp/encode.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <memory>
#include <stdexcept>

// The HEVC encoder that makes the HEIC samples keeps some memory for good; the program only ever decodes.
extern "C" const char* __lsan_default_suppressions();
extern "C" const char* __lsan_default_suppressions() {
    return "leak:libx265";
}

namespace tedge::imaging::samples {
namespace {

// 32-bit integer hash: a picture of noise that is the same everywhere.
std::uint32_t hashed(std::uint32_t v) {
    v = (v ^ (v >> 16U)) * 0x7FEB352DU;
    v = (v ^ (v >> 15U)) * 0x846CA68BU;
    return v ^ (v >> 16U);
}

void must(bool held) {
    if (!held) throw std::runtime_error("a sample file could not be made");
}

std::string jpeg_compressed(const Raster8& pixels, J_COLOR_SPACE space, const std::vector<std::uint8_t>& icc,
                            bool progressive, const std::vector<jpeg_scan_info>& script = {}) {
    jpeg_compress_struct info{};
    jpeg_error_mgr errors{};
    unsigned char* bytes = nullptr;
    unsigned long size = 0;
    info.err = jpeg_std_error(&errors);
    jpeg_create_compress(&info);
    jpeg_mem_dest(&info, &bytes, &size);
    info.image_width = static_cast<JDIMENSION>(pixels.width_px());
    info.image_height = static_cast<JDIMENSION>(pixels.height_px());
    info.input_components = pixels.channels();
    info.in_color_space = space;
    jpeg_set_defaults(&info);
    jpeg_set_quality(&info, 100, TRUE);
    if (progressive) jpeg_simple_progression(&info);
    if (!script.empty()) {
        info.scan_info = script.data();
        info.num_scans = static_cast<int>(script.size());
    }
    jpeg_start_compress(&info, TRUE);
    if (!icc.empty()) jpeg_write_icc_profile(&info, icc.data(), static_cast<unsigned>(icc.size()));
    for (int y = 0; y < pixels.height_px(); ++y) {
        JSAMPROW row = const_cast<JSAMPROW>(pixels.row(y));
        jpeg_write_scanlines(&info, &row, 1);
    }
    jpeg_finish_compress(&info);
    std::string out(reinterpret_cast<char*>(bytes), size);
    jpeg_destroy_compress(&info);
    std::free(bytes);
    return out;
}

std::string taken_from_webp(std::uint8_t* bytes, std::size_t size) {
    must(size > 0);
    std::string out(reinterpret_cast<char*>(bytes), size);
    WebPFree(bytes);
    return out;
}

}  // namespace

Raster8 smooth8(int width, int height, int channels) {
    Raster8 out(width, height, channels);
    for (int y = 0; y < height; ++y)
        for (int x = 0; x < width; ++x)
            for (int c = 0; c < channels; ++c) {
                const double u = static_cast<double>(x) / std::max(1, width - 1);
                const double v = static_cast<double>(y) / std::max(1, height - 1);
                const double mix = c % 3 == 0 ? 0.1 + 0.7 * u + 0.1 * v : c % 3 == 1 ? 0.8 - 0.5 * u : 0.2 + 0.6 * v;
                out.at(x, y, c) = static_cast<std::uint8_t>(std::lround(255.0 * mix));
            }
    return out;
}

Raster16 exact16(int width, int height, int channels) {
    Raster16 out(width, height, channels);
    std::uint32_t next = 0;
    for (auto& sample : out.samples()) sample = static_cast<std::uint16_t>(next++ * 40503U + 7U);
    return out;
}

Raster8 noisy8(int width, int height, int channels) {
    Raster8 out(width, height, channels);
    std::uint32_t next = 1;
    for (auto& sample : out.samples()) sample = static_cast<std::uint8_t>(hashed(next++));
    return out;
}

void save(const std::filesystem::path& file, const std::string& bytes) {
    std::ofstream(file, std::ios::binary).write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
}

int largest_difference(const Raster8& a, const Raster8& b) {
    if (!(a.size() == b.size()) || a.channels() != b.channels()) return 999;
    int worst = 0;
    for (std::size_t i = 0; i < a.samples().size(); ++i)
        worst = std::max(worst, std::abs(a.samples()[i] - b.samples()[i]));
    return worst;
}

std::string webp_bytes(const Raster8& pixels) {
    std::uint8_t* bytes = nullptr;
    const auto encode = pixels.channels() == 4 ? WebPEncodeLosslessRGBA : WebPEncodeLosslessRGB;
    const std::size_t size =
        encode(pixels.row(0), pixels.width_px(), pixels.height_px(), static_cast<int>(pixels.row_samples()), &bytes);
    return taken_from_webp(bytes, size);
}

std::string webp_bytes(const Raster8& pixels, float quality) {
    std::uint8_t* bytes = nullptr;
    const auto encode = pixels.channels() == 4 ? WebPEncodeRGBA : WebPEncodeRGB;
    const std::size_t size = encode(pixels.row(0), pixels.width_px(), pixels.height_px(),
                                    static_cast<int>(pixels.row_samples()), quality, &bytes);
    return taken_from_webp(bytes, size);
}

std::string heic_bytes(const Raster8& rgb, const std::vector<std::uint8_t>& icc) {
    std::string out;
    heif_context* context = heif_context_alloc();
    heif_encoder* encoder = nullptr;
    must(heif_context_get_encoder_for_format(context, heif_compression_HEVC, &encoder).code == heif_error_Ok);
    heif_encoder_set_lossy_quality(encoder, 95);
    heif_image* image = nullptr;
    must(heif_image_create(rgb.width_px(), rgb.height_px(), heif_colorspace_RGB, heif_chroma_interleaved_RGB, &image)
             .code == heif_error_Ok);
    heif_image_add_plane(image, heif_channel_interleaved, rgb.width_px(), rgb.height_px(), 8);
    int stride = 0;
    std::uint8_t* plane = heif_image_get_plane(image, heif_channel_interleaved, &stride);
    for (int y = 0; y < rgb.height_px(); ++y)
        std::copy_n(rgb.row(y), rgb.row_samples(), plane + static_cast<std::ptrdiff_t>(stride) * y);
    if (!icc.empty()) heif_image_set_raw_color_profile(image, "prof", icc.data(), icc.size());
    must(heif_context_encode_image(context, image, encoder, nullptr, nullptr).code == heif_error_Ok);
    heif_writer writer{1, [](heif_context*, const void* data, std::size_t size, void* to) {
                           static_cast<std::string*>(to)->assign(static_cast<const char*>(data), size);
                           return heif_error{heif_error_Ok, heif_suberror_Unspecified, ""};
                       }};
    must(heif_context_write(context, &writer, &out).code == heif_error_Ok);
    heif_image_release(image);
    heif_encoder_release(encoder);
    heif_context_free(context);
    return out;
}

std::string cmyk_jpeg_bytes(const Raster8& cmyk, const std::vector<std::uint8_t>& icc) {
    Raster8 upside_down = cmyk;
    for (auto& sample : upside_down.samples()) sample = static_cast<std::uint8_t>(255 - sample);
    return jpeg_compressed(upside_down, JCS_CMYK, icc, false);
}

std::string progressive_jpeg_bytes(const Raster8& rgb) {
    return jpeg_compressed(rgb, JCS_RGB, {}, true);
}

std::string repeating_jpeg_bytes(const Raster8& grey, int passes) {
    // Mean values first, everything else after: both in full, so that either may be said again (ITU-T T.81, G.1).
    const std::vector<jpeg_scan_info> script{{1, {0}, 0, 0, 0, 0}, {1, {0}, 1, 63, 0, 0}};
    const std::string once = jpeg_compressed(grey, JCS_GRAYSCALE, {}, true, script);
    const std::size_t last = once.rfind("\xFF\xDA");  // the marker that begins a pass; the file's end takes two bytes
    const std::string pass = once.substr(last, once.size() - 2 - last);
    std::string bytes = once.substr(0, last);
    for (int i = 1; i < passes; ++i) bytes += pass;
    return bytes + once.substr(once.size() - 2);
}

std::vector<std::uint8_t> exif_with_orientation(int orientation) {
    // Exif 2.32, 4.6: byte order, 42, first directory at 8; one entry: tag 0x0112, SHORT, count 1, value; no next one.
    return {'I', 'I', 42, 0, 8, 0, 0, 0, 1, 0, 0x12, 0x01, 3, 0, 1, 0, 0, 0, static_cast<std::uint8_t>(orientation),
            0,   0,   0,  0, 0, 0, 0};
}

std::string with_exif(const std::string& jpeg, const std::vector<std::uint8_t>& exif) {
    const std::size_t length = 2 + 6 + exif.size();
    std::string segment{"\xFF\xE1", 2};
    segment += static_cast<char>(length >> 8U);
    segment += static_cast<char>(length & 0xFFU);
    segment.append("Exif\0\0", 6);
    segment.append(exif.begin(), exif.end());
    return jpeg.substr(0, 2) + segment + jpeg.substr(2);
}

}  // namespace tedge::imaging::samples
