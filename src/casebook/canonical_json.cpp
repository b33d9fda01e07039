#include "canonical_json.hpp"

#include "tedge/base/text.hpp"

namespace tedge::casebook {

using nlohmann::json;

std::string canonical(const json& value) {
    return value.dump(-1, ' ', false, json::error_handler_t::replace);
}

std::optional<json> parse_json(std::string_view text) {
    json parsed = json::parse(text, nullptr, false);
    if (parsed.is_discarded()) return std::nullopt;
    return parsed;
}

const json* value_at(const json& object, std::string_view path) {
    const json* here = &object;
    for (const std::string_view step : split(path, '/')) {
        if (!here->is_object()) return nullptr;
        const auto next = here->find(step);
        if (next == here->end()) return nullptr;
        here = &*next;
    }
    return here;
}

void set_at(json& object, std::string_view path, const json& value) {
    json* here = &object;
    for (const std::string_view step : split(path, '/')) {
        if (!here->is_object()) *here = json::object();
        here = &(*here)[std::string(step)];
    }
    *here = value;
}

void unset_at(json& object, std::string_view path) {
    const std::size_t last = path.rfind('/');
    if (last == std::string_view::npos) {
        object.erase(std::string(path));
        return;
    }
    const json* parent = value_at(object, path.substr(0, last));
    if (parent == nullptr || !parent->is_object()) return;
    json without = *parent;
    without.erase(std::string(path.substr(last + 1)));
    set_at(object, path.substr(0, last), without);
}

}  // namespace tedge::casebook
