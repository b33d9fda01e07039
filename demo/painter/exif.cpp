#include "exif.hpp"

#include <cstdint>
#include <vector>

namespace tedge::painter {
namespace {

// One directory of little-endian TIFF, its longer values behind it.
class Directory {
public:
    void text(std::uint16_t tag, std::string_view value) {
        std::string bytes(value);
        bytes.push_back('\0');
        entries_.push_back({tag, 2, static_cast<std::uint32_t>(bytes.size()), bytes});
    }
    void word(std::uint16_t tag, std::uint16_t value) { entries_.push_back({tag, 3, 1, little(value, 2)}); }
    void offset(std::uint16_t tag, std::uint32_t value) { entries_.push_back({tag, 4, 1, little(value, 4)}); }
    void undefined(std::uint16_t tag, std::string_view value) {
        entries_.push_back({tag, 7, static_cast<std::uint32_t>(value.size()), std::string(value)});
    }

    // As it stands `start` bytes behind the TIFF header.
    [[nodiscard]] std::string bytes(std::uint32_t start) const {
        std::string head = little(static_cast<std::uint32_t>(entries_.size()), 2);
        std::string tail;
        const auto after = start + 2U + 12U * static_cast<std::uint32_t>(entries_.size()) + 4U;
        for (const Entry& entry : entries_) {
            head += little(entry.tag, 2) + little(entry.type, 2) + little(entry.count, 4);
            if (entry.value.size() <= 4) {
                head += entry.value + std::string(4 - entry.value.size(), '\0');
                continue;
            }
            head += little(after + static_cast<std::uint32_t>(tail.size()), 4);
            tail += entry.value;
            if (tail.size() % 2 != 0) tail.push_back('\0');
        }
        return head + std::string(4, '\0') + tail;
    }

    static std::string little(std::uint32_t value, int count) {
        std::string out;
        for (int i = 0; i < count; ++i) out.push_back(static_cast<char>((value >> (8 * i)) & 0xFFU));
        return out;
    }

private:
    struct Entry {
        std::uint16_t tag;
        std::uint16_t type;
        std::uint32_t count;
        std::string value;
    };
    std::vector<Entry> entries_;  // tags in rising order, as TIFF 6.0 asks
};

// "2025-03-20T09:30:00" to "2025:03:20 09:30:00".
std::string exif_time(std::string_view iso) {
    std::string time(iso);
    time[4] = time[7] = ':';
    time[10] = ' ';
    return time;
}

Directory main_directory(const ExifWords& words, std::uint32_t exif_at) {
    Directory d;
    d.text(0x010F, words.make);
    d.text(0x0110, words.model);
    d.word(0x0112, static_cast<std::uint16_t>(words.orientation));
    d.text(0x0132, exif_time(words.taken_at));
    d.offset(0x8769, exif_at);
    return d;
}

}  // namespace

std::string exif_segment(const ExifWords& words) {
    Directory exif;
    exif.undefined(0x9000, "0232");
    exif.text(0x9003, exif_time(words.taken_at));
    const auto exif_at = static_cast<std::uint32_t>(8 + main_directory(words, 0).bytes(8).size());
    std::string tiff = std::string("II*\0", 4) + Directory::little(8, 4) + main_directory(words, exif_at).bytes(8) +
                       exif.bytes(exif_at);
    const std::string body = std::string("Exif\0\0", 6) + tiff;
    const auto length = static_cast<std::uint32_t>(body.size() + 2);
    std::string segment = "\xFF\xE1";
    segment.push_back(static_cast<char>(length >> 8U));
    segment.push_back(static_cast<char>(length & 0xFFU));
    return segment + body;
}

}  // namespace tedge::painter
