// What of a field's value would tell something if it stood in a text by itself. The rule is written in leak_search.hpp.
#pragma once

#include <cstdint>
#include <nlohmann/json_fwd.hpp>
#include <vector>

#include "leaks/reading.hpp"
#include "tedge/base/money.hpp"
#include "tedge/casebook/field_table.hpp"

namespace tedge::casebook {

struct TellingWords {
    Reading text;
    bool as_written = false;  // a name of one word: small letters are another word
};

struct TellingSum {
    Money money;
    bool only_with_currency = false;
};

struct TellingValues {
    std::vector<TellingWords> words;
    std::vector<TellingSum> sums;
};

[[nodiscard]] TellingValues telling_values(const Kind& kind, const Field& field, const nlohmann::json& value);

// The same without asking whether it tells anything: whole texts, sentences and sums. What a reader is told like this
// is no secret.
[[nodiscard]] TellingValues told_values(const Kind& kind, const Field& field, const nlohmann::json& value);

}  // namespace tedge::casebook
