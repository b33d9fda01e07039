// TIFF 6.0 by libtiff, 8 and 16 bits, grey and RGB, in strips of about a megabyte, little-endian on every machine.
#include <tiffio.h>

#include <algorithm>
#include <cstdarg>
#include <cstring>
#include <memory>

#include "picture_encoders.hpp"

namespace tedge::imaging {
namespace {

constexpr std::size_t strip_bytes = 1U << 20U;

// A file in memory: libtiff goes back to mend its directory, so it needs a place to seek in.
struct MemoryFile {
    std::string bytes;
    std::size_t at = 0;
};

MemoryFile& file_of(thandle_t client) {
    return *static_cast<MemoryFile*>(client);
}

tmsize_t read_some(thandle_t client, void* to, tmsize_t count) {
    auto& file = file_of(client);
    const std::size_t there = file.at < file.bytes.size() ? file.bytes.size() - file.at : 0;
    const std::size_t taken = std::min(there, static_cast<std::size_t>(count));
    std::memcpy(to, file.bytes.data() + file.at, taken);
    file.at += taken;
    return static_cast<tmsize_t>(taken);
}

tmsize_t write_some(thandle_t client, void* from, tmsize_t count) {
    auto& file = file_of(client);
    const auto size = static_cast<std::size_t>(count);
    if (file.bytes.size() < file.at + size) file.bytes.resize(file.at + size);
    std::memcpy(file.bytes.data() + file.at, from, size);
    file.at += size;
    return count;
}

toff_t seek_to(thandle_t client, toff_t offset, int whence) {
    auto& file = file_of(client);
    const std::size_t from = whence == SEEK_SET ? 0 : whence == SEEK_CUR ? file.at : file.bytes.size();
    file.at = from + static_cast<std::size_t>(offset);
    return file.at;
}

int keep_open(thandle_t) {
    return 0;
}
toff_t size_of(thandle_t client) {
    return file_of(client).bytes.size();
}
int map_nothing(thandle_t, void**, toff_t*) {
    return 0;
}
void unmap_nothing(thandle_t, void*, toff_t) {}
int say_nothing(TIFF*, void*, const char*, const char*, std::va_list) {
    return 1;
}

std::unique_ptr<TIFF, void (*)(TIFF*)> opened_for_writing(MemoryFile& file) {
    const std::unique_ptr<TIFFOpenOptions, void (*)(TIFFOpenOptions*)> options(TIFFOpenOptionsAlloc(),
                                                                               TIFFOpenOptionsFree);
    TIFFOpenOptionsSetErrorHandlerExtR(options.get(), say_nothing, nullptr);
    TIFFOpenOptionsSetWarningHandlerExtR(options.get(), say_nothing, nullptr);
    return {TIFFClientOpenExt("picture", "wl", &file, read_some, write_some, seek_to, keep_open, size_of, map_nothing,
                              unmap_nothing, options.get()),
            TIFFClose};
}

template <class T>
void describe(TIFF* tiff, const Raster<T>& pixels, const TiffOptions& options) {
    const std::size_t rows = std::max<std::size_t>(1, strip_bytes / (pixels.row_samples() * sizeof(T)));
    TIFFSetField(tiff, TIFFTAG_IMAGEWIDTH, static_cast<std::uint32_t>(pixels.width_px()));
    TIFFSetField(tiff, TIFFTAG_IMAGELENGTH, static_cast<std::uint32_t>(pixels.height_px()));
    TIFFSetField(tiff, TIFFTAG_BITSPERSAMPLE, static_cast<int>(sizeof(T) * 8));
    TIFFSetField(tiff, TIFFTAG_SAMPLESPERPIXEL, pixels.channels());
    TIFFSetField(tiff, TIFFTAG_PHOTOMETRIC, pixels.channels() == 1 ? PHOTOMETRIC_MINISBLACK : PHOTOMETRIC_RGB);
    TIFFSetField(tiff, TIFFTAG_PLANARCONFIG, PLANARCONFIG_CONTIG);
    TIFFSetField(tiff, TIFFTAG_ORIENTATION, ORIENTATION_TOPLEFT);
    TIFFSetField(tiff, TIFFTAG_ROWSPERSTRIP, static_cast<std::uint32_t>(rows));
    TIFFSetField(tiff, TIFFTAG_COMPRESSION, options.deflate ? COMPRESSION_ADOBE_DEFLATE : COMPRESSION_NONE);
    if (options.deflate) TIFFSetField(tiff, TIFFTAG_PREDICTOR, PREDICTOR_HORIZONTAL);
    if (!options.icc_profile.empty())
        TIFFSetField(tiff, TIFFTAG_ICCPROFILE, static_cast<std::uint32_t>(options.icc_profile.size()),
                     options.icc_profile.data());
    if (!options.description.empty()) TIFFSetField(tiff, TIFFTAG_IMAGEDESCRIPTION, options.description.c_str());
    if (!options.pixels_per_inch) return;
    TIFFSetField(tiff, TIFFTAG_XRESOLUTION, *options.pixels_per_inch);
    TIFFSetField(tiff, TIFFTAG_YRESOLUTION, *options.pixels_per_inch);
    TIFFSetField(tiff, TIFFTAG_RESOLUTIONUNIT, RESUNIT_INCH);
}

template <class T>
std::string encoded(const Raster<T>& pixels, const TiffOptions& options) {
    MemoryFile file;
    file.bytes.reserve(options.deflate ? 0 : pixels.samples().size() * sizeof(T) + 65536);
    {
        const auto tiff = opened_for_writing(file);
        if (!tiff) return {};
        describe(tiff.get(), pixels, options);
        // The predictor works in the buffer it is given: every row is copied first.
        std::vector<T> row(pixels.row_samples());
        for (int y = 0; y < pixels.height_px(); ++y) {
            std::copy_n(pixels.row(y), row.size(), row.begin());
            if (TIFFWriteScanline(tiff.get(), row.data(), static_cast<std::uint32_t>(y), 0) != 1) return {};
        }
        if (TIFFFlush(tiff.get()) != 1) return {};
    }
    return std::move(file.bytes);
}

}  // namespace

std::string tiff_bytes(const Raster8& pixels, const TiffOptions& options) {
    return encoded(pixels, options);
}
std::string tiff_bytes(const Raster16& pixels, const TiffOptions& options) {
    return encoded(pixels, options);
}

}  // namespace tedge::imaging
