#include "tiff_accepted.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace tedge::imaging {
namespace {

constexpr int most_samples = 8;

// What scanners, cameras and programs for pictures write. The library knows more (old-style JPEG, Thunderscan, NeXT,
// PixarLog, LERC, JBIG): seldom met, seldom looked after, and not opened to strangers' files.
bool is_read_compression(std::uint16_t compression) {
    constexpr std::array<std::uint16_t, 12> read{
        COMPRESSION_NONE,     COMPRESSION_CCITTRLE, COMPRESSION_CCITTFAX3, COMPRESSION_CCITTFAX4,
        COMPRESSION_LZW,      COMPRESSION_JPEG,     COMPRESSION_DEFLATE,   COMPRESSION_ADOBE_DEFLATE,
        COMPRESSION_PACKBITS, COMPRESSION_LZMA,     COMPRESSION_ZSTD,      COMPRESSION_WEBP};
    return std::ranges::find(read, compression) != read.end();
}

std::uint64_t bytes_in_memory(const TiffLayout& layout) {
    const std::uint64_t pixels = std::uint64_t{layout.width} * layout.height;
    return pixels * layout.samples * std::max(1, layout.bits / 8);
}

}  // namespace

Expected<void> check_layout(const PictureJob& job, const TiffLayout& layout) {
    if (auto sized = job.check_size(layout.width, layout.height); !sized) return sized;
    if (auto fits = job.check_room(bytes_in_memory(layout)); !fits) return fits;
    const bool floating = layout.sample_format == SAMPLEFORMAT_IEEEFP;
    const bool whole = layout.sample_format == SAMPLEFORMAT_UINT || layout.sample_format == SAMPLEFORMAT_VOID;
    const bool known_bits = floating ? layout.bits == 16 || layout.bits == 32
                                     : whole && (layout.bits == 1 || layout.bits == 2 || layout.bits == 4 ||
                                                 layout.bits == 8 || layout.bits == 16 || layout.bits == 32);
    if (!known_bits) return job.unsupported(fmt::format("it has {}-bit samples of an unusual kind", layout.bits));
    if (!is_read_compression(layout.compression) || TIFFIsCODECConfigured(layout.compression) == 0)
        return job.unsupported(fmt::format("it is compressed in a way that is not read here ({})", layout.compression));
    if (layout.samples > most_samples) return job.unsupported(fmt::format("it has {} channels", layout.samples));
    switch (layout.photometric) {
        case PHOTOMETRIC_MINISBLACK:
        case PHOTOMETRIC_MINISWHITE:
        case PHOTOMETRIC_RGB:
            break;
        case PHOTOMETRIC_CIELAB:
        case PHOTOMETRIC_ICCLAB:
            if (!floating && (layout.bits == 8 || layout.bits == 16)) break;
            return job.unsupported("its CIELAB colours are of an unusual kind");
        case PHOTOMETRIC_PALETTE:
            if (layout.bits <= 8 && !floating && layout.samples == 1) break;
            return job.unsupported("its palette is of an unusual kind");
        case PHOTOMETRIC_YCBCR:
            if (layout.compression == COMPRESSION_JPEG) break;
            return job.unsupported("it holds YCbCr colours without JPEG compression");
        case PHOTOMETRIC_SEPARATED:
            if (!floating && (layout.bits == 8 || layout.bits == 16) && layout.samples == 4) break;
            return job.unsupported("it holds printing inks other than the four common ones");
        default:
            return job.unsupported(fmt::format("its colours are of kind {}", layout.photometric));
    }
    if (layout.samples < layout.colours()) return job.damaged("it has fewer channels than its colours need");
    if (layout.bits < 8 && layout.samples > 1) return job.unsupported("it has fewer than 8 bits a sample in colour");
    return {};
}

}  // namespace tedge::imaging
