// Searches every file of a folder byte by byte.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "tedge/base/files.hpp"

namespace tedge::casebook {

// The files below the folder that hold the bytes.
inline std::vector<std::string> files_with(const std::filesystem::path& folder, std::string_view bytes) {
    std::vector<std::string> found;
    for (const auto& entry : std::filesystem::recursive_directory_iterator(folder)) {
        if (!entry.is_regular_file()) continue;
        if (read_file(entry.path()).value().find(bytes) != std::string::npos) found.push_back(to_utf8(entry.path()));
    }
    return found;
}

}  // namespace tedge::casebook
