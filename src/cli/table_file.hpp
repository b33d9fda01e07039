// Tables (CSV) that a command writes where --out names a file for them.
#pragma once

#include <filesystem>
#include <string>

#include "tedge/base/files.hpp"

namespace tedge::cli {

// An older table with the same heads is replaced; anything else of that name is somebody's: a photograph, a casebook.
// Errors: table.exists, those of writing.
[[nodiscard]] inline Expected<void> write_table(const std::filesystem::path& file, const std::string& csv) {
    std::error_code ignored;
    if (std::filesystem::exists(file, ignored)) {
        const auto before = read_file(file);
        if (!before || !before->starts_with(csv.substr(0, csv.find('\n'))))
            return fail("table.exists", "There is a file " + to_utf8(file) + " already, and it is no such table.",
                        "Name another file, or take the old one away.");
    }
    return write_file_durably(file, csv);
}

}  // namespace tedge::cli
