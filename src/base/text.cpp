#include "tedge/base/text.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace tedge {

namespace {

// Length of a well-formed sequence at `at` (RFC 3629: no overlong forms, no surrogates, nothing above U+10FFFF), or 0.
std::size_t sequence_length(std::string_view text, std::size_t at) {
    const auto byte = [&](std::size_t i) {
        return i < text.size() ? static_cast<unsigned char>(text[i]) : static_cast<unsigned char>(0);
    };
    const auto continues = [&](std::size_t i) { return (byte(i) & 0xC0U) == 0x80U; };
    const unsigned char first = byte(at);
    if (first < 0x80) return 1;
    if (first >= 0xC2 && first <= 0xDF) return continues(at + 1) ? 2 : 0;
    if (first >= 0xE0 && first <= 0xEF) {
        const bool overlong = first == 0xE0 && byte(at + 1) < 0xA0;
        const bool surrogate = first == 0xED && byte(at + 1) > 0x9F;
        return continues(at + 1) && continues(at + 2) && !overlong && !surrogate ? 3 : 0;
    }
    if (first >= 0xF0 && first <= 0xF4) {
        const bool overlong = first == 0xF0 && byte(at + 1) < 0x90;
        const bool beyond = first == 0xF4 && byte(at + 1) > 0x8F;
        return continues(at + 1) && continues(at + 2) && continues(at + 3) && !overlong && !beyond ? 4 : 0;
    }
    return 0;
}

bool is_control(std::string_view character, std::string_view kept) {
    if (character.size() == 1) {
        const auto byte = static_cast<unsigned char>(character.front());
        return (byte < 0x20 || byte == 0x7F) && kept.find(character.front()) == std::string_view::npos;
    }
    const bool is_c1 = character.size() == 2 && character >= "\xC2\x80" && character <= "\xC2\x9F";
    return is_c1 || character == "\xE2\x80\xA8" || character == "\xE2\x80\xA9";
}

}  // namespace

bool has_controls(std::string_view utf8, std::string_view kept) {
    for (std::size_t at = 0; at < utf8.size();) {
        const std::size_t length = std::max<std::size_t>(sequence_length(utf8, at), 1);
        if (is_control(utf8.substr(at, length), kept)) return true;
        at += length;
    }
    return false;
}

std::string without_controls(std::string_view text, std::string_view kept) {
    std::string clean;
    clean.reserve(text.size());
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t length = sequence_length(text, at);
        const std::string_view character = text.substr(at, std::max<std::size_t>(length, 1));
        if (length == 0 || is_control(character, kept)) {
            clean += '?';
        } else {
            clean += character;
        }
        at += character.size();
    }
    return clean;
}

bool is_valid_utf8(std::string_view text) {
    std::size_t at = 0;
    while (at < text.size()) {
        const std::size_t length = sequence_length(text, at);
        if (length == 0) return false;
        at += length;
    }
    return true;
}

std::string_view trimmed(std::string_view text) {
    constexpr std::string_view blanks = " \t\r\n\v\f";
    const std::size_t first = text.find_first_not_of(blanks);
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(blanks) - first + 1);
}

std::vector<std::string_view> split(std::string_view text, char separator) {
    std::vector<std::string_view> parts;
    for (std::size_t at = 0;;) {
        const std::size_t next = text.find(separator, at);
        parts.push_back(text.substr(at, next - at));
        if (next == std::string_view::npos) return parts;
        at = next + 1;
    }
}

std::string join(const std::vector<std::string>& parts, std::string_view separator) {
    return fmt::format("{}", fmt::join(parts, separator));
}

std::string lowered_ascii(std::string_view text) {
    std::string lowered(text);
    std::ranges::transform(lowered, lowered.begin(),
                           [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
    return lowered;
}

std::string capitalised(std::string text) {
    if (!text.empty() && text.front() >= 'a' && text.front() <= 'z')
        text.front() = static_cast<char>(text.front() - 'a' + 'A');
    return text;
}

std::string counted(std::size_t count, std::string_view singular, std::string_view plural) {
    return fmt::format("{} {}", count, count == 1 ? singular : plural);
}

}  // namespace tedge
