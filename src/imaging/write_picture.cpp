#include "tedge/imaging/write_picture.hpp"

#include <new>

#include "picture_encoders.hpp"
#include "picture_job.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/text.hpp"
#include "tedge/imaging/srgb_view.hpp"

namespace tedge::imaging {
namespace {

constexpr int longest_jpeg_side_px = 65500;

using Bytes = std::span<const std::uint8_t>;

std::unexpected<Error> refused(std::string_view why, std::string_view next) {
    return fail("picture.unwritable", "The picture cannot be written: " + std::string(why) + ".", std::string(next),
                {{"why", std::string(why)}});
}

Expected<void> check(SizePx size, int channels, PictureFormat format, const PictureWriteOptions& options) {
    if (size.width_px <= 0 || size.height_px <= 0) return refused("it has no pixels", "Choose another picture.");
    if (channels != 1 && channels != 3) return refused("it is neither grey nor RGB", "Convert it first.");
    if (options.jpeg_quality < 1 || options.jpeg_quality > 100)
        return refused("a JPEG quality lies between 1 and 100", "Choose one of these.");
    if (options.png_compression < 0 || options.png_compression > 9)
        return refused("a PNG compression lies between 0 and 9", "Choose one of these.");
    const bool long_side = size.width_px > longest_jpeg_side_px || size.height_px > longest_jpeg_side_px;
    if (format == PictureFormat::jpeg && long_side)
        return refused("a side is longer than the 65,500 pixels that JPEG takes", "Write it as TIFF or PNG.");
    return {};
}

Raster8 rounded_to_8(const Raster16& pixels) {
    Raster8 out(pixels.width_px(), pixels.height_px(), pixels.channels());
    auto* to = out.samples().data();
    for (const std::uint16_t sample : pixels.samples())
        *to++ = static_cast<std::uint8_t>((sample * 255U + 32767U) / 65535U);
    return out;
}

const Raster8& as_8(const Raster8& pixels, Raster8&) {
    return pixels;
}
const Raster8& as_8(const Raster16& pixels, Raster8& room) {
    return room = rounded_to_8(pixels);
}

// A profile of its own, else sRGB for colour. Grey without a profile stays without: readers take the sRGB curve.
Bytes profile_for(Bytes own, int channels) {
    if (!own.empty() || channels == 1) return own;
    return srgb_icc_profile();
}

template <class T>
std::string bytes_of(const Raster<T>& pixels, Bytes profile, PictureFormat format, const PictureWriteOptions& options) {
    const Bytes tagged = profile_for(profile, pixels.channels());
    switch (format) {
        case PictureFormat::jpeg: {
            Raster8 room;
            return jpeg_bytes(whole(as_8(pixels, room)), {options.jpeg_quality, options.jpeg_full_chroma, tagged,
                                                          options.pixels_per_inch, options.description});
        }
        case PictureFormat::png:
            return png_bytes(pixels,
                             {options.png_compression, true, profile, options.pixels_per_inch, options.description});
        case PictureFormat::tiff:
            return tiff_bytes(pixels, {options.tiff_deflate, tagged, options.pixels_per_inch, options.description});
    }
    return {};
}

template <class T>
Expected<std::string> encoded(const Raster<T>& pixels, Bytes profile, PictureFormat format,
                              const PictureWriteOptions& options) {
    if (const auto fine = check(pixels.size(), pixels.channels(), format, options); !fine) return pass_on(fine);
    try {
        std::string bytes = bytes_of(pixels, profile, format, options);
        if (bytes.empty()) return refused("the encoder refused it", "Try another format.");
        return bytes;
    } catch (const std::bad_alloc&) {
        return out_of_memory("the picture");
    }
}

template <class Pixels>
Expected<void> written(const std::filesystem::path& file, const Pixels& pixels, PictureFormat format,
                       const PictureWriteOptions& options) {
    const auto bytes = encode_picture(pixels, format, options);
    if (!bytes) return pass_on(bytes);
    return write_file_durably(file, *bytes);
}

}  // namespace

Expected<std::string> encode_picture(const Picture& picture, PictureFormat format, const PictureWriteOptions& options) {
    return std::visit([&](const auto& pixels) { return encoded(pixels, picture.icc_profile, format, options); },
                      picture.pixels);
}

Expected<std::string> encode_picture(const Raster8& pixels, PictureFormat format, const PictureWriteOptions& options) {
    return encoded(pixels, {}, format, options);
}

Expected<std::string> encode_picture(const Raster16& pixels, PictureFormat format, const PictureWriteOptions& options) {
    return encoded(pixels, {}, format, options);
}

Expected<void> write_picture(const std::filesystem::path& file, const Picture& picture, PictureFormat format,
                             const PictureWriteOptions& options) {
    return written(file, picture, format, options);
}

Expected<void> write_picture(const std::filesystem::path& file, const Raster8& pixels, PictureFormat format,
                             const PictureWriteOptions& options) {
    return written(file, pixels, format, options);
}

Expected<void> write_picture(const std::filesystem::path& file, const Raster16& pixels, PictureFormat format,
                             const PictureWriteOptions& options) {
    return written(file, pixels, format, options);
}

Expected<PictureFormat> format_for(const std::filesystem::path& file) {
    const std::string ending = lowered_ascii(to_utf8(file.extension()));
    if (ending == ".jpg" || ending == ".jpeg") return PictureFormat::jpeg;
    if (ending == ".png") return PictureFormat::png;
    if (ending == ".tif" || ending == ".tiff") return PictureFormat::tiff;
    return fail("picture.unknown-ending",
                "The name " + to_utf8(file.filename()) + " does not say what kind of picture to write.",
                "Let it end in .jpg, .png or .tif.", {{"name", to_utf8(file.filename())}});
}

}  // namespace tedge::imaging
