#include "picture_metadata.hpp"

#include <cmath>
#include <exiv2/exiv2.hpp>
#include <mutex>

#include "picture_words.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/text.hpp"

namespace tedge::imaging {
namespace {

// The library's global parts, once and before any thread uses them.
void start_library() {
    static std::once_flag once;
    std::call_once(once, [] {
        Exiv2::LogMsg::setLevel(Exiv2::LogMsg::mute);
        Exiv2::XmpParser::initialize();
        Exiv2::enableBMFF(true);
    });
}

const Exiv2::Exifdatum* find(const Exiv2::ExifData& exif, const char* key) {
    const auto found = exif.findKey(Exiv2::ExifKey(key));
    return found == exif.end() || found->count() == 0 ? nullptr : &*found;
}

void set_text(const Exiv2::ExifData& exif, const char* key, std::string& out) {
    const auto* datum = find(exif, key);
    if (datum == nullptr) return;
    std::string text = datum->toString();
    text.resize(std::min(text.find('\0'), text.size()));
    const std::string_view clean = trimmed(text);
    if (!clean.empty() && is_valid_utf8(clean)) out = clean;
}

// A JPEG may have a comment beside its Exif description.
void add_description(std::string said, std::string& out) {
    said.resize(std::min(said.find('\0'), said.size()));
    const std::string_view clean = trimmed(said);
    if (clean.empty() || !is_valid_utf8(clean)) return;
    if (!out.empty()) out += '\n';
    out += clean;
}

void set_number(const Exiv2::ExifData& exif, const char* key, std::optional<double>& out) {
    const auto* datum = find(exif, key);
    if (datum == nullptr) return;
    const auto [numerator, denominator] = datum->toRational();
    const double value = denominator == 0 ? 0.0 : static_cast<double>(numerator) / denominator;
    if (std::isfinite(value) && value > 0.0) out = value;
}

bool is_exif_time(std::string_view text) {
    constexpr std::string_view pattern = "dddd:dd:dd dd:dd:dd";
    if (text.size() != pattern.size() || text.starts_with("0000")) return false;
    for (std::size_t i = 0; i < text.size(); ++i)
        if (pattern[i] == 'd' ? text[i] < '0' || text[i] > '9' : text[i] != pattern[i]) return false;
    return true;
}

// Exif 2.32 writes "2026:03:03 14:05:00" and, since 2.31, the offset apart.
void set_time(const Exiv2::ExifData& exif, std::string& out) {
    std::string text;
    set_text(exif, "Exif.Photo.DateTimeOriginal", text);
    if (text.empty()) set_text(exif, "Exif.Image.DateTimeOriginal", text);
    if (!is_exif_time(text)) return;
    text[4] = text[7] = '-';
    text[10] = 'T';
    std::string offset;
    set_text(exif, "Exif.Photo.OffsetTimeOriginal", offset);
    const bool signed_offset = offset.size() == 6 && (offset[0] == '+' || offset[0] == '-') && offset[3] == ':';
    out = text + (signed_offset ? offset : "");
}

void set_density(const Exiv2::ExifData& exif, std::optional<double>& out) {
    std::optional<double> resolution;
    set_number(exif, "Exif.Image.XResolution", resolution);
    if (!resolution) return;
    const auto* unit = find(exif, "Exif.Image.ResolutionUnit");
    const auto code = unit == nullptr ? 2 : unit->toLong();
    if (code == 2) out = *resolution;
    if (code == 3) out = *resolution * 2.54;
}

void set_orientation(const Exiv2::ExifData& exif, int& out) {
    const auto* datum = find(exif, "Exif.Image.Orientation");
    if (datum == nullptr) return;
    const auto value = datum->toLong();
    if (value >= 1 && value <= 8) out = static_cast<int>(value);
}

// Exif 2.32, 4.6.5: 1 is sRGB, 0xFFFF uncalibrated; 2 is what some cameras wrote for Adobe RGB before DCF 2.0 (from
// memory).
void set_colours(const Exiv2::ExifData& exif, ExifColours& out) {
    const auto* datum = find(exif, "Exif.Photo.ColorSpace");
    if (datum == nullptr) return;
    const auto code = datum->toLong();
    std::string index;
    set_text(exif, "Exif.Iop.InteroperabilityIndex", index);
    if (code == 2 || (code == 0xFFFF && index == "R03"))
        out = ExifColours::adobe_rgb;
    else if (code == 0xFFFF)
        out = ExifColours::another;
}

void add_exif(const Exiv2::ExifData& exif, PictureMetadata& metadata) {
    set_text(exif, "Exif.Image.Make", metadata.camera_make);
    set_text(exif, "Exif.Image.Model", metadata.camera_model);
    set_text(exif, "Exif.Photo.LensModel", metadata.lens);
    set_text(exif, "Exif.Image.Software", metadata.software);
    if (const auto* said = find(exif, "Exif.Image.ImageDescription"); said != nullptr)
        add_description(said->toString(), metadata.description);
    set_time(exif, metadata.captured_at);
    set_number(exif, "Exif.Photo.ExposureTime", metadata.exposure_s);
    set_number(exif, "Exif.Photo.FNumber", metadata.f_number);
    set_number(exif, "Exif.Photo.ISOSpeedRatings", metadata.iso);
    set_number(exif, "Exif.Photo.FocalLength", metadata.focal_length_mm);
    set_density(exif, metadata.pixels_per_inch);
    set_orientation(exif, metadata.orientation_in_file);
    set_colours(exif, metadata.colours);
    metadata.has_location = metadata.has_location || find(exif, "Exif.GPSInfo.GPSLatitude") != nullptr;
}

}  // namespace

void add_file_metadata(const std::filesystem::path& file, PictureMetadata& metadata) {
    start_library();
    try {
        const auto image = Exiv2::ImageFactory::open(to_utf8(file), false);
        image->readMetadata();
        add_exif(image->exifData(), metadata);
        add_what_people_wrote({image->exifData(), image->iptcData(), image->xmpData()}, metadata);
        add_description(image->comment(), metadata.description);
    } catch (const std::exception&) {
        // No metadata, or broken ones: the pixels are what counts.
    }
}

void add_exif_bytes(std::span<const std::uint8_t> exif, PictureMetadata& metadata) {
    start_library();
    try {
        Exiv2::ExifData data;
        Exiv2::ExifParser::decode(data, exif.data(), static_cast<std::uint32_t>(exif.size()));
        add_exif(data, metadata);
        add_what_people_wrote({data, {}, {}}, metadata);
    } catch (const std::exception&) {
    }
}

}  // namespace tedge::imaging
