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
// "1 photograph", "3 photographs"
[[nodiscard]] std::string counted(std::size_t count, std::string_view singular, std::string_view plural);

}  // namespace tedge
