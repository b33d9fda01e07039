#include "picture_kind.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace tedge::imaging {
namespace {

using namespace std::string_view_literals;

bool is_tiff(std::string_view head) {
    return head.starts_with("II*\0"sv) || head.starts_with("MM\0*"sv) || head.starts_with("II+\0"sv) ||
           head.starts_with("MM\0+"sv);
}

// Magic bytes of raw formats that are not TIFF by the letter: Olympus, Panasonic, Fujifilm, Canon CRW, Minolta, Sigma.
bool is_raw_of_its_own(std::string_view head) {
    constexpr std::array magics{"IIRO"sv, "IIRS"sv, "MMOR"sv, "IIU\0"sv, "FUJIFILMCCD-RAW"sv, "\0MRM"sv, "FOVb"sv};
    const bool canon_crw = head.starts_with("II\x1a\0\0\0HEAPCCDR"sv);
    return canon_crw || std::ranges::any_of(magics, [head](std::string_view magic) { return head.starts_with(magic); });
}

std::string_view box_brand(std::string_view head) {
    return head.size() >= 12 && head.substr(4, 4) == "ftyp" ? head.substr(8, 4) : ""sv;
}

bool is_heif_brand(std::string_view brand) {
    constexpr std::array brands{"heic"sv, "heix"sv, "hevc"sv, "heim"sv, "heis"sv, "mif1"sv, "msf1"sv, "avif"sv};
    return std::ranges::find(brands, brand) != brands.end();
}

std::optional<PictureKind> known_kind(std::string_view head) {
    if (head.starts_with("\xFF\xD8\xFF"sv)) return PictureKind::jpeg;
    if (head.starts_with("\x89PNG\r\n\x1a\n"sv)) return PictureKind::png;
    if (head.starts_with("RIFF"sv) && head.size() >= 12 && head.substr(8, 4) == "WEBP") return PictureKind::webp;
    if (box_brand(head) == "crx ") return PictureKind::camera_raw;
    if (is_heif_brand(box_brand(head))) return PictureKind::heif;
    if (is_tiff(head)) return PictureKind::tiff;
    if (is_raw_of_its_own(head)) return PictureKind::camera_raw;
    return std::nullopt;
}

bool looks_like_text(std::string_view head) {
    return std::ranges::none_of(head, [](char c) {
        const auto byte = static_cast<unsigned char>(c);
        return (byte < 0x20 && c != '\n' && c != '\r' && c != '\t') || byte == 0x7F;
    });
}

std::string_view what_it_holds_instead(std::string_view head) {
    if (head.starts_with("%PDF"sv)) return "a PDF document";
    if (head.starts_with("GIF8"sv)) return "a GIF picture, which holds too few colours to work with";
    if (head.starts_with("BM"sv)) return "a BMP picture, which is not read here";
    if (head.starts_with("PK\x03\x04"sv)) return "a ZIP archive";
    if (!box_brand(head).empty()) return "a film or another media file";
    if (looks_like_text(head)) return "text";
    return "no kind of picture that is read here";
}

}  // namespace

Expected<PictureKind> kind_of_bytes(std::string_view head, std::string_view name) {
    if (head.empty())
        return fail("picture.empty", fmt::format("{} is empty: it has no bytes at all.", name),
                    "Copy it again from the camera, or ask the sender for it again.", {{"name", std::string(name)}});
    if (const auto kind = known_kind(head)) return *kind;
    return fail("picture.not-a-picture",
                fmt::format("{} is not a photograph: it holds {}.", name, what_it_holds_instead(head)),
                "Choose a JPEG, PNG, WebP, HEIC, TIFF or camera raw file.", {{"name", std::string(name)}});
}

}  // namespace tedge::imaging
