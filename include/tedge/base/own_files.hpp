// Files that the program writes anew over its own older ones.
#pragma once

#include <filesystem>
#include <string_view>

#include "tedge/base/error.hpp"

namespace tedge {

// Nothing lies there, or a file that begins as this program's do; anything else of that name is somebody's: a
// photograph, a casebook. `what` it would have to be, for the sentence: "calendar". Errors: `code`.
[[nodiscard]] Expected<void> check_may_be_replaced(const std::filesystem::path& file, std::string_view begins,
                                                   std::string_view code, std::string_view what);

// A table (CSV) with its heads in the first line; an older one with the same heads is replaced. Errors: table.exists,
// those of write_file_durably.
[[nodiscard]] Expected<void> write_table_durably(const std::filesystem::path& file, std::string_view csv);

}  // namespace tedge
