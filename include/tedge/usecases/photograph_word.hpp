// The words of a photograph's fields, judged before there is a photograph.
#pragma once

#include <string_view>

#include "tedge/base/error.hpp"

namespace tedge::usecases {

// Whether the word is one of that field of a photograph ("light", "stage", "raking_side"). Errors:
// photograph.unknown-word.
[[nodiscard]] Expected<void> check_photograph_word(std::string_view field, std::string_view word);

}  // namespace tedge::usecases
