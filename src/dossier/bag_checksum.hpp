// Checksums of the algorithms that bags in the world carry. Our own bags use SHA-256 and SHA-512 alone; MD5 and SHA-1
// are only ever checked, never written.
#pragma once

#include <filesystem>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "tedge/base/error.hpp"
#include "tedge/base/progress.hpp"

namespace tedge::dossier {

// "md5", "sha1", "sha224", "sha256", "sha384", "sha512"; names of manifests are compared so (RFC 8493 section 2.4).
[[nodiscard]] bool is_known_checksum(std::string_view algorithm);

// All checksums of a file in one reading. Errors: files.unreadable, "cancelled".
[[nodiscard]] Expected<std::map<std::string, std::string>> checksums_of_file(const std::filesystem::path& file,
                                                                             const std::vector<std::string>& algorithms,
                                                                             const Progress& progress);

}  // namespace tedge::dossier
