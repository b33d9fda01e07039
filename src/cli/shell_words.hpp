// A line of a script taken apart as a POSIX shell would: blanks, single and double quotes, backslash. Nothing is
// expanded.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "tedge/base/error.hpp"

namespace tedge::cli {

// POSIX.1-2017, Shell Command Language, section 2.2. Errors: usage.open-quote.
[[nodiscard]] Expected<std::vector<std::string>> shell_words(std::string_view line);

}  // namespace tedge::cli
