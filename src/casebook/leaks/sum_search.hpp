// Whether a sum of money stands in a text, however it is written.
#pragma once

#include "leaks/telling_values.hpp"

namespace tedge::casebook {

[[nodiscard]] bool stands_in(const TellingSum& sum, const Reading& text);

}  // namespace tedge::casebook
