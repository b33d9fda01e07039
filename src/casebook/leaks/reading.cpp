#include "leaks/reading.hpp"

#include <algorithm>
#include <array>

namespace tedge::casebook {

namespace {

// Length of the sequence that begins with this byte; 1 for what begins none.
std::size_t sequence_length(unsigned char first) {
    if (first >= 0xF0) return 4;
    if (first >= 0xE0) return 3;
    return first >= 0xC2 ? 2 : 1;
}

bool continues_sequence(char byte) {
    return (static_cast<unsigned char>(byte) & 0xC0U) == 0x80U;
}

char32_t next_character(std::string_view text, std::size_t& at) {
    const auto first = static_cast<unsigned char>(text[at]);
    const std::size_t length = sequence_length(first);
    const auto rest = text.substr(at + 1, length - 1);
    if (length == 1 || rest.size() + 1 < length || !std::ranges::all_of(rest, continues_sequence)) {
        ++at;
        return first;
    }
    constexpr std::array<unsigned, 5> payload{0, 0x7F, 0x1F, 0x0F, 0x07};
    char32_t c = first & payload.at(length);
    for (std::size_t i = 1; i < length; ++i) c = (c << 6U) | (static_cast<unsigned char>(text[at + i]) & 0x3FU);
    at += length;
    return c;
}

bool is_blank(char32_t c) {
    return c == U' ' || (c >= U'\t' && c <= U'\r') || c == 0xA0 || (c >= 0x2000 && c <= 0x200A) || c == 0x2028 ||
           c == 0x2029 || c == 0x202F || c == 0x3000;
}

bool is_quotation_mark(char32_t c) {
    return c == U'"' || c == 0xAB || c == 0xBB || (c >= 0x201C && c <= 0x201F);
}

// What stands for one character in JSON: \n is a blank, \" falls away with its quotation mark.
char32_t after_backslash(char32_t c) {
    return c == U'n' || c == U'r' || c == U't' ? U' ' : c;
}

bool is_within(char32_t c, char32_t first, char32_t last) {
    return c >= first && c <= last;
}

// Blocks in which a capital and its small letter stand side by side, the capital even or odd.
char32_t folded_pair(char32_t c) {
    const bool capital_is_odd = is_within(c, 0x139, 0x148) || is_within(c, 0x179, 0x17E);
    return (c % 2 == 1) == capital_is_odd ? c + 1 : c;
}

}  // namespace

char32_t folded_letter(char32_t c) {
    if (is_within(c, U'A', U'Z')) return c + 0x20;
    if (c < 0xC0) return c;
    if (is_within(c, 0xC0, 0xDE) && c != 0xD7) return c + 0x20;          // Latin-1
    if (c == 0x130 || c == 0x131 || c == 0x138 || c == 0x149) return c;  // Turkish i, and letters without a capital
    if (c == 0x178) return 0xFF;
    if (is_within(c, 0x100, 0x17E)) return folded_pair(c);  // Latin Extended-A
    if (is_within(c, 0x391, 0x3A9)) return c + 0x20;        // Greek
    if (is_within(c, 0x410, 0x42F)) return c + 0x20;        // Cyrillic
    return is_within(c, 0x400, 0x40F) ? c + 0x50 : c;
}

bool is_digit(char32_t c) {
    return is_within(c, U'0', U'9');
}

bool is_word_character(char32_t c) {
    if (c < 0x80) return is_digit(c) || is_within(c, U'a', U'z') || is_within(c, U'A', U'Z');
    if (c < 0xC0) return c == 0xAA || c == 0xB5 || c == 0xBA;
    if (c == 0xD7 || c == 0xF7) return false;
    return !is_within(c, 0x2000, 0x2BFF) && !is_within(c, 0x3000, 0x303F);
}

Reading reading_of(std::string_view text) {
    Reading reading;
    for (std::size_t at = 0; at < text.size();) {
        char32_t c = next_character(text, at);
        if (c == U'\\' && at < text.size()) c = after_backslash(next_character(text, at));
        if (is_quotation_mark(c)) continue;
        if (is_blank(c)) {
            if (reading.written.empty() || reading.written.back() == U' ') continue;
            c = U' ';
        }
        reading.written += c == 0x2019 ? U'\'' : c;
    }
    if (!reading.written.empty() && reading.written.back() == U' ') reading.written.pop_back();
    for (const char32_t c : reading.written) reading.folded += folded_letter(c);
    return reading;
}

}  // namespace tedge::casebook
