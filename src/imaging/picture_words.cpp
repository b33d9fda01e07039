#include "picture_words.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <set>
#include <span>

#include "tedge/base/number_text.hpp"
#include "tedge/base/text.hpp"

namespace tedge::imaging {

namespace {

constexpr std::size_t longest_line_bytes = 500;

// Bytes that are no UTF-8 were written by an old program, by common practice in Latin-1, whose codes are Unicode's.
std::string as_utf8(std::string_view bytes) {
    if (is_valid_utf8(bytes)) return std::string(bytes);
    std::string text;
    for (const char c : bytes) {
        const auto code = static_cast<unsigned char>(c);
        if (code < 0x80) {
            text += c;
        } else {
            text += static_cast<char>(0xC0U | (code >> 6U));
            text += static_cast<char>(0x80U | (code & 0x3FU));
        }
    }
    return text;
}

void cut_to(std::string& text, std::size_t most_bytes) {
    if (text.size() <= most_bytes) return;
    while (most_bytes > 0 && (static_cast<unsigned char>(text[most_bytes]) & 0xC0U) == 0x80U) --most_bytes;
    text.resize(most_bytes);
}

// One line, whatever stands in it.
std::string line_of(std::string_view bytes) {
    std::string text = as_utf8(bytes.substr(0, bytes.find('\0')));
    std::ranges::replace_if(text, [](char c) { return c == '\n' || c == '\r' || c == '\t'; }, ' ');
    text = without_controls(trimmed(text));
    cut_to(text, longest_line_bytes);
    return text;
}

// Of a text in several languages the one that stands for all, else the first.
std::string text_of(const Exiv2::Xmpdatum& datum) {
    const auto& value = datum.value();
    if (const auto* languages = dynamic_cast<const Exiv2::LangAltValue*>(&value)) {
        const auto found = languages->value_.find("x-default");
        if (found != languages->value_.end()) return line_of(found->second);
        return languages->value_.empty() ? std::string() : line_of(languages->value_.begin()->second);
    }
    return line_of(value.toString());
}

std::string said_in(const Exiv2::XmpData& xmp, const char* key) {
    const auto found = xmp.findKey(Exiv2::XmpKey(key));
    return found == xmp.end() ? std::string() : text_of(*found);
}

std::string said_in(const Exiv2::IptcData& iptc, const char* key) {
    const auto found = iptc.findKey(Exiv2::IptcKey(key));
    return found == iptc.end() ? std::string() : line_of(found->toString());
}

std::string said_in(const Exiv2::ExifData& exif, const char* key) {
    const auto found = exif.findKey(Exiv2::ExifKey(key));
    return found == exif.end() ? std::string() : line_of(found->toString());
}

void set_first(std::string& out, std::initializer_list<std::string> said) {
    const auto found = std::ranges::find_if(said, [](const std::string& text) { return !text.empty(); });
    if (found != said.end()) out = *found;
}

void set_named(const FileMetadata& file, PictureMetadata& metadata) {
    set_first(metadata.author, {said_in(file.xmp, "Xmp.dc.creator"), said_in(file.iptc, "Iptc.Application2.Byline"),
                                said_in(file.exif, "Exif.Image.Artist")});
    set_first(metadata.copyright,
              {said_in(file.xmp, "Xmp.dc.rights"), said_in(file.iptc, "Iptc.Application2.Copyright"),
               said_in(file.exif, "Exif.Image.Copyright")});
    set_first(metadata.usage_terms,
              {said_in(file.xmp, "Xmp.xmpRights.UsageTerms"), said_in(file.xmp, "Xmp.xmpRights.WebStatement")});
    set_first(metadata.caption,
              {said_in(file.xmp, "Xmp.dc.description"), said_in(file.iptc, "Iptc.Application2.Caption"),
               said_in(file.exif, "Exif.Image.ImageDescription")});
}

bool has_one_of(std::string_view key, std::span<const std::string_view> parts) {
    return std::ranges::any_of(parts, [&](std::string_view part) { return key.find(part) != std::string_view::npos; });
}

// By name, as XMP (photoshop:City, Iptc4xmpCore:Location, Iptc4xmpExt:LocationCreated) and IPTC-IIM (2:90 to 2:101,
// 2:26 and 2:27) write it: somebody's house or shop.
bool names_a_place(std::string_view key) {
    constexpr std::array<std::string_view, 6> parts{".City",    "Location",       ".State",
                                                    ".Country", ".ProvinceState", ":City"};
    return has_one_of(key, parts);
}

// Where something was taken and which very device took it stay in the file; times and versions are no words.
bool is_left_out(std::string_view key) {
    constexpr std::array<std::string_view, 15> parts{"GPS",    "Serial",    "UniqueID",   "MakerNote",  "Date",
                                                     "Time",   "Version",   "DocumentID", "Instance",   "History",
                                                     "Digest", "Thumbnail", ".Make",      ".LensModel", ".Model"};
    return names_a_place(key) || has_one_of(key, parts);
}

// What it shows (LocationShown) may lie far from where it was taken.
template <class Data>
bool tells_where_it_was_taken(const Data& data) {
    return std::ranges::any_of(data, [](const auto& datum) {
        const std::string key = datum.key();
        return names_a_place(key) && key.find("LocationShown") == std::string::npos &&
               !line_of(datum.toString()).empty();
    });
}

// Namespaces of XMP in which people write; the others hold settings of programs.
bool is_for_people(std::string_view key) {
    constexpr std::array<std::string_view, 9> schemas{"Xmp.dc.",      "Xmp.photoshop.",       "Xmp.iptc",
                                                      "Xmp.iptcExt.", "Xmp.xmpRights.",       "Xmp.lr.",
                                                      "Xmp.tiff.",    "Xmp.exif.UserComment", "Xmp.xmp.Label"};
    return std::ranges::any_of(schemas, [&](std::string_view schema) { return key.starts_with(schema); });
}

bool is_of_letters(std::string_view text) {
    return std::ranges::any_of(text, [](char c) {
        return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || static_cast<unsigned char>(c) >= 0x80;
    });
}

class Words {
public:
    explicit Words(const PictureMetadata& known)
        : taken_{known.author,      known.copyright,    known.usage_terms, known.caption,
                 known.camera_make, known.camera_model, known.lens} {}

    void add(const std::string& line) {
        const std::size_t room = longest_words_bytes - text_.size();
        if (!is_of_letters(line) || line.size() + 1 > room || !taken_.insert(line).second) return;
        text_ += (text_.empty() ? "" : "\n") + line;
    }
    [[nodiscard]] std::string take() { return std::move(text_); }

private:
    std::set<std::string> taken_;
    std::string text_;
};

void add_words(const Exiv2::ExifData& exif, Words& words) {
    for (const auto& datum : exif) {
        const std::string group = datum.groupName();
        const std::string name = datum.tagName();
        const bool is_text = datum.typeId() == Exiv2::asciiString || name == "UserComment" || name.starts_with("XP");
        if ((group == "Image" || group == "Photo") && is_text && datum.size() <= 1U << 16U && !is_left_out(datum.key()))
            words.add(line_of(name.starts_with("XP") || name == "UserComment" ? datum.print() : datum.toString()));
    }
}

void add_words(const Exiv2::IptcData& iptc, Words& words) {
    for (const auto& datum : iptc) {
        if (datum.typeId() == Exiv2::string && datum.groupName() == "Application2" && !is_left_out(datum.key()))
            words.add(line_of(datum.toString()));
    }
}

void add_words(const Exiv2::XmpData& xmp, Words& words) {
    for (const auto& datum : xmp) {
        if (is_for_people(datum.key()) && !is_left_out(datum.key())) words.add(text_of(datum));
    }
}

std::string exposure_time(double seconds) {
    if (seconds >= 0.3) return format_number(std::round(seconds * 10.0) / 10.0) + " s";
    return "1/" + format_number(std::round(1.0 / seconds)) + " s";
}

}  // namespace

void add_what_people_wrote(const FileMetadata& file, PictureMetadata& metadata) {
    set_named(file, metadata);
    metadata.has_location =
        metadata.has_location || tells_where_it_was_taken(file.xmp) || tells_where_it_was_taken(file.iptc);
    Words words(metadata);
    add_words(file.xmp, words);
    add_words(file.iptc, words);
    add_words(file.exif, words);
    metadata.words = words.take();
}

std::string exposure_in_words(const PictureMetadata& metadata) {
    std::vector<std::string> parts;
    if (metadata.exposure_s) parts.push_back(exposure_time(*metadata.exposure_s));
    if (metadata.f_number) parts.push_back("f/" + format_number(std::round(*metadata.f_number * 10.0) / 10.0));
    if (metadata.iso) parts.push_back("ISO " + format_number(std::round(*metadata.iso)));
    if (metadata.focal_length_mm)
        parts.push_back(format_number(std::round(*metadata.focal_length_mm * 10.0) / 10.0) + " mm");
    return join(parts, ", ");
}

}  // namespace tedge::imaging
