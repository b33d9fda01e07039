#include "canonical_json.hpp"

#include "tedge/base/text.hpp"

namespace tedge::casebook {

using nlohmann::json;

std::string canonical(const json& value) {
    return value.dump(-1, ' ', false, json::error_handler_t::replace);
}

namespace {

// What comes from elsewhere may be nested to exhaust the stack of whoever walks it; a record needs a few levels.
constexpr int deepest_nesting = 64;

bool is_too_deep(std::string_view text) {
    int depth = 0;
    bool in_string = false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        if (in_string) {
            if (c == '\\') ++i;
            in_string = c != '"';
        } else if (c == '"') {
            in_string = true;
        } else if (c == '{' || c == '[') {
            if (++depth > deepest_nesting) return true;
        } else if (c == '}' || c == ']') {
            --depth;
        }
    }
    return false;
}

}  // namespace

std::optional<json> parse_json(std::string_view text) {
    if (is_too_deep(text)) return std::nullopt;
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
