// The one file that knows how this platform makes bytes durable. Paths are UTF-8.
#pragma once

#include <cstdint>
#include <filesystem>
#include <span>
#include <string>
#include <string_view>

#include "tedge/base/error.hpp"

namespace tedge {

// Whole file as bytes. Errors: files.missing, files.unreadable, files.too-large (above `limit` bytes).
[[nodiscard]] Expected<std::string> read_file(const std::filesystem::path& file, std::uint64_t limit = 1ULL << 32);

// Whether its bytes can be read more than once: no folder, pipe or device. Errors: files.missing, files.unreadable.
[[nodiscard]] Expected<void> check_is_file(const std::filesystem::path& path);

// Writes a file that is either there in full or not at all, and stays so after a power cut:
// temporary file beside it, fsync, rename over `file`, fsync of the folder. Errors: files.disk-full,
// files.read-only, files.unwritable; on an error nothing of the new file is left behind.
[[nodiscard]] Expected<void> write_file_durably(const std::filesystem::path& file, std::string_view bytes);

// Flushes a folder's entries to the disk, so that a rename in it is kept. Errors: files.unwritable.
[[nodiscard]] Expected<void> sync_folder(const std::filesystem::path& folder);

// Makes a folder with its parents and flushes each new entry. Errors: as above.
[[nodiscard]] Expected<void> make_folder_durably(const std::filesystem::path& folder);

// Copies `from` into the folder of `to` under a temporary name, flushes it, and tells the caller the SHA-256 of what
// was written; `publish` then renames it into place and flushes the folder. Dropped unpublished, it is removed.
class IncomingFile {
public:
    [[nodiscard]] static Expected<IncomingFile> copy(const std::filesystem::path& from,
                                                     const std::filesystem::path& temporary_folder);
    ~IncomingFile();
    IncomingFile(IncomingFile&& other) noexcept;
    IncomingFile& operator=(IncomingFile&& other) noexcept;

    [[nodiscard]] const std::string& sha256_hex() const { return sha256_hex_; }
    [[nodiscard]] std::uint64_t size_bytes() const { return size_bytes_; }
    [[nodiscard]] const std::filesystem::path& path() const { return path_; }
    [[nodiscard]] Expected<void> publish(const std::filesystem::path& to);

private:
    IncomingFile(std::filesystem::path path, std::string sha256_hex, std::uint64_t size_bytes);
    std::filesystem::path path_;
    std::string sha256_hex_;
    std::uint64_t size_bytes_ = 0;
};

[[nodiscard]] std::string to_utf8(const std::filesystem::path& path);
[[nodiscard]] std::filesystem::path path_from_utf8(std::string_view text);

}  // namespace tedge
