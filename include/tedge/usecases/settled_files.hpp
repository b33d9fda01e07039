// Which files of a watched folder are new and whole: a camera or a copier writes a file bit by bit.
#pragma once

#include <cstdint>
#include <filesystem>
#include <map>
#include <set>
#include <vector>

#include "tedge/base/error.hpp"

namespace tedge::usecases {

using FileSizes = std::map<std::filesystem::path, std::uint64_t>;

// The regular files of the folder that are not hidden. Errors: photograph.no-folder.
[[nodiscard]] Expected<FileSizes> sizes_in(const std::filesystem::path& folder);

// Told of the folder's files time after time. A file is whole when it has bytes and the same size in two looks one
// after the other; each is told of once, also when it is written to again later.
class SettledFiles {
public:
    SettledFiles() = default;
    // What was there before counts as told of.
    explicit SettledFiles(const FileSizes& there_before);
    [[nodiscard]] std::vector<std::filesystem::path> settled(const FileSizes& there);

private:
    FileSizes growing_;
    std::set<std::filesystem::path> told_;
};

}  // namespace tedge::usecases
