// The files of another book, taken over before its changes are: a record never stands here without its file, unless
// the other book lacks it too.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "sqlite/connection.hpp"
#include "tedge/casebook/casebook.hpp"

namespace tedge::casebook {

struct BookOnDisk {
    const sqlite::Connection& db;
    const std::filesystem::path& folder;
};

// Copies what `their_changes` name and we lack. What is wrong with a file there becomes a sentence of `faults`.
// Errors: what is wrong with our own disk (files.*).
[[nodiscard]] Expected<void> merge_files(const BookOnDisk& ours, const BookOnDisk& theirs,
                                         const std::vector<Change>& their_changes, std::vector<std::string>& faults);

}  // namespace tedge::casebook
