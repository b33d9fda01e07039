// The one form in which payloads and bodies are stored: UTF-8, keys sorted by their bytes, no spaces.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>

namespace tedge::casebook {

// nlohmann::json keeps object keys in a std::map, so they come out sorted by bytes.
[[nodiscard]] std::string canonical(const nlohmann::json& value);

// Nothing where the text is no JSON, or nested beyond all use. A payload is read leniently: a fault in it is reported
// by check, not by a crash.
[[nodiscard]] std::optional<nlohmann::json> parse_json(std::string_view text);

// The value at "a/b/c" of an object, or nullptr.
[[nodiscard]] const nlohmann::json* value_at(const nlohmann::json& object, std::string_view path);
// Sets it, making objects on the way; what stands in the way and is no object gives place.
void set_at(nlohmann::json& object, std::string_view path, const nlohmann::json& value);
// Removes it; objects that it leaves empty stay.
void unset_at(nlohmann::json& object, std::string_view path);

}  // namespace tedge::casebook
