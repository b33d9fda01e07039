// The one file of the casebook that asks this platform for more than the C++ library knows.
#pragma once

#include <filesystem>
#include <string>

namespace tedge::casebook {

// What tells one database file in one place from a copy of it: the machine, the file system and the file's number
// there. It stays while the file stays where it was made or is moved on one disk. "" where the file cannot be asked.
[[nodiscard]] std::string mark_of_file(const std::filesystem::path& file);

[[nodiscard]] bool may_write(const std::filesystem::path& path);

}  // namespace tedge::casebook
