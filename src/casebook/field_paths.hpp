// Paths inside a body: "region", or "answers/support" inside a map.
#pragma once

#include <string_view>

namespace tedge::casebook {

[[nodiscard]] inline std::string_view top_field(std::string_view path) {
    return path.substr(0, path.find('/'));
}

// The same path, or one inside the other: writing both is writing the same thing twice.
[[nodiscard]] bool overlapping(std::string_view a, std::string_view b);

}  // namespace tedge::casebook
