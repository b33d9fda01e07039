// JSON as it was written: numbers keep their text, so that amounts can be read exactly, and repeated names show.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "tedge/base/error.hpp"

namespace tedge::money {

struct JsonText {
    enum class Kind { null, boolean, number, string, array, object };
    Kind kind = Kind::null;
    bool truth = false;
    std::string text{};  // of a number as written, of a string its content
    std::vector<JsonText> items{};
    std::vector<std::pair<std::string, JsonText>> members{};
};

// A number as written, cut where it is so long that no sentence could hold it.
[[nodiscard]] std::string shown_number(std::string_view number);

// Errors: plan.not-json, plan.repeated-field, plan.out-of-range (a number beyond what any program counts), the last two
// with values.field.
[[nodiscard]] Expected<JsonText> parse_json_text(std::string_view json);

}  // namespace tedge::money
