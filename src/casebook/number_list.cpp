#include "tedge/casebook/number_list.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "canonical_json.hpp"

namespace tedge::casebook {

std::optional<std::vector<double>> numbers_at(const Body& body, std::string_view path) {
    const nlohmann::json* list = value_at(body.as_json(), path);
    if (list == nullptr || !list->is_array() ||
        !std::ranges::all_of(*list, [](const nlohmann::json& each) { return each.is_number(); }))
        return std::nullopt;
    return list->get<std::vector<double>>();
}

}  // namespace tedge::casebook
