// Photographs read from files: JPEG, PNG, WebP, HEIC/HEIF, TIFF and camera raw, told apart by content, never by file
// name.
//
// Orientation is applied, alpha is laid on white, palettes are expanded. Colours stay as the file has them, with the
// profile beside them; srgb_view.hpp turns them into sRGB. Pixel centres stand at integers, (0, 0) the top-left one.
#pragma once

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "tedge/base/error.hpp"
#include "tedge/base/progress.hpp"
#include "tedge/imaging/raster.hpp"

namespace tedge::imaging {

enum class PictureKind { jpeg, png, webp, heif, tiff, camera_raw };

[[nodiscard]] std::string_view name_of(PictureKind kind);     // "JPEG", "camera raw"
[[nodiscard]] std::string_view media_type(PictureKind kind);  // RFC 6838: "image/jpeg"; camera raw "image/x-dcraw"

// What Exif says of the colours of a JPEG: cameras that were set to Adobe RGB write no profile (DCF 2.0: ColorSpace
// "uncalibrated" with the interoperability index R03).
enum class ExifColours { srgb_or_unsaid, adobe_rgb, another };

// What the camera wrote, and what people wrote into the file: Exif, XMP and IPTC. Text is empty and numbers are absent
// where the file does not say.
struct PictureMetadata {
    std::string camera_make;
    std::string camera_model;
    std::string lens;
    std::string software;
    // What the file says of itself: Exif description and comment, a line each.
    std::string description;
    // ISO 8601 by the camera's own clock, "2026-03-03T14:05:00", with "+01:00" after it when the file has the offset.
    std::string captured_at;
    std::optional<double> exposure_s;
    std::optional<double> f_number;
    std::optional<double> iso;
    std::optional<double> focal_length_mm;
    std::optional<double> pixels_per_inch;
    // Exif/TIFF orientation 1 to 8 as the file has it. Pixels and sizes are always after orientation.
    int orientation_in_file = 1;
    ExifColours colours = ExifColours::srgb_or_unsaid;
    bool has_location = false;  // the file says where it was taken; the place itself is not kept
    // Of people: XMP before IPTC before Exif where more than one of them says it.
    std::string author;
    std::string copyright;
    std::string usage_terms;  // what may be done with it: the licence in words or as an address
    std::string caption;
    // What else stands in it in words (title, keywords, credits, remarks), a line each, at most longest_words_bytes.
    // Never positions, serial numbers, ids or what only programs read.
    std::string words;
};

inline constexpr std::size_t longest_words_bytes = 4000;

// "1/60 s, f/8, ISO 100, 85 mm": what the file says of it.
[[nodiscard]] std::string exposure_in_words(const PictureMetadata& metadata);

// Set only when pixels are linear camera values (RawRendering::camera_linear).
struct CameraSpace {
    std::vector<double> white_balance;  // multipliers already applied to red, green, blue; green 1
};

struct Picture {
    PictureKind kind = PictureKind::png;
    // 1 channel (grey) or 3 (red, green, blue), 8 or 16 bits a sample, full range.
    std::variant<Raster8, Raster16> pixels{};
    std::vector<std::uint8_t> icc_profile{};  // empty: sRGB (grey: the sRGB curve)
    std::optional<CameraSpace> camera_space{};
    PictureMetadata metadata{};
    // What a person should know about how it was read, one sentence each ("Transparent parts were laid on white.").
    std::vector<std::string> notes{};

    [[nodiscard]] SizePx size() const {
        return std::visit([](const auto& raster) { return raster.size(); }, pixels);
    }
    [[nodiscard]] int channels() const {
        return std::visit([](const auto& raster) { return raster.channels(); }, pixels);
    }
    [[nodiscard]] bool is_grey() const { return channels() == 1; }
    [[nodiscard]] int bits() const { return pixels.index() == 0 ? 8 : 16; }
};

enum class RawRendering {
    view,          // camera white balance, camera matrix, sRGB curve, no automatic brightening: 16-bit sRGB
    camera_linear  // camera white balance, linear, camera primaries: 16 bit, for measuring colour
};

struct PictureReadOptions {
    RawRendering raw = RawRendering::view;
    // Refused above this before any pixel is allocated.
    std::uint64_t max_pixels = 300'000'000;
};

// Decodes a whole picture. Errors, each with what to do next:
//   files.missing, files.unreadable
//   picture.empty         the file has no bytes
//   picture.not-a-picture text, a document, or a format that is not read here
//   picture.unsupported   a known format in a variant that is not read (the sentence says which)
//   picture.too-large     more than max_pixels, or a side above 65,535; samples that take more room than max_pixels of
//                         16-bit RGBA; a file of more than 4 GiB that is no TIFF
//   picture.damaged       cut short or corrupt; the file itself may still be kept as it is
//   picture.no-memory, cancelled
[[nodiscard]] Expected<Picture> read_picture(const std::filesystem::path& file, const PictureReadOptions& options = {},
                                             const Progress& progress = {});

struct PictureProbe {
    PictureKind kind = PictureKind::png;
    SizePx size{};  // after orientation
    int channels = 3;
    int bits = 8;  // a sample as read_picture would give it
    bool has_icc_profile = false;
    PictureMetadata metadata{};
};

// Kind, size and metadata without decoding pixels. Errors as for read_picture; a file whose head is whole but whose
// pixels are damaged is answered as if it were sound.
[[nodiscard]] Expected<PictureProbe> probe_picture(const std::filesystem::path& file,
                                                   const PictureReadOptions& options = {});

}  // namespace tedge::imaging
