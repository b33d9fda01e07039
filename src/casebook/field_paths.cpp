#include "field_paths.hpp"

namespace tedge::casebook {

bool overlapping(std::string_view a, std::string_view b) {
    const auto inside = [](std::string_view inner, std::string_view outer) {
        return inner.starts_with(outer) && (inner.size() == outer.size() || inner[outer.size()] == '/');
    };
    return inside(a, b) || inside(b, a);
}

}  // namespace tedge::casebook
