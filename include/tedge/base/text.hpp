// Small things about UTF-8 text that more than one module needs.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace tedge {

[[nodiscard]] bool is_valid_utf8(std::string_view text);
[[nodiscard]] std::string_view trimmed(std::string_view text);  // without ASCII blanks at both ends
[[nodiscard]] std::vector<std::string_view> split(std::string_view text, char separator);
[[nodiscard]] std::string join(const std::vector<std::string>& parts, std::string_view separator);
[[nodiscard]] std::string lowered_ascii(std::string_view text);
// As a sentence begins: an ASCII letter in front becomes a capital; other scripts stay as they are.
[[nodiscard]] std::string capitalised(std::string text);
// What a terminal obeys instead of showing: the control characters C0 and C1 (ECMA-48), DEL, and the separators of
// lines and paragraphs U+2028 and U+2029. Those in `kept` do not count.
[[nodiscard]] bool has_controls(std::string_view utf8, std::string_view kept = {});
// The text with a question mark for each of them, and for each byte that is not UTF-8.
[[nodiscard]] std::string without_controls(std::string_view text, std::string_view kept = {});
// "1 photograph", "3 photographs"
[[nodiscard]] std::string counted(std::size_t count, std::string_view singular, std::string_view plural);

}  // namespace tedge
