#pragma once

#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

namespace tedge::casebook {

// Whether one of the sentences holds the words.
inline bool mentions(const std::vector<std::string>& lines, std::string_view words) {
    return std::ranges::any_of(lines, [&](const std::string& line) { return line.find(words) != std::string::npos; });
}

}  // namespace tedge::casebook
