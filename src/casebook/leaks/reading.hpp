// A text as it is searched: what a layout or a file format adds is taken off.
#pragma once

#include <string>
#include <string_view>

namespace tedge::casebook {

// Two readings of the same length, character for character.
struct Reading {
    std::u32string written;  // every run of blanks is one blank; no quotation marks, no escapes
    std::u32string folded;   // the same in small letters

    [[nodiscard]] std::size_t size() const { return folded.size(); }
};

// UTF-8; a byte that is none is read as a character of its own.
[[nodiscard]] Reading reading_of(std::string_view text);

// Latin, Greek and Cyrillic capitals, by their blocks in Unicode: no locale has a say.
[[nodiscard]] char32_t folded_letter(char32_t c);

// Letters and digits of any script; not blanks, punctuation, currency signs and symbols.
[[nodiscard]] bool is_word_character(char32_t c);
[[nodiscard]] bool is_digit(char32_t c);

}  // namespace tedge::casebook
