#include "tedge/base/files.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <utility>
#include <vector>

#include "tedge/base/digest.hpp"
#include "tedge/base/uuid.hpp"

namespace tedge {

namespace {

namespace fs = std::filesystem;

// An open file descriptor that closes itself.
class Descriptor {
public:
    explicit Descriptor(int number) : number_(number) {}
    Descriptor(const Descriptor&) = delete;
    Descriptor& operator=(const Descriptor&) = delete;
    ~Descriptor() {
        if (number_ >= 0) ::close(number_);
    }
    [[nodiscard]] int number() const { return number_; }
    [[nodiscard]] bool ok() const { return number_ >= 0; }

private:
    int number_;
};

std::unexpected<Error> write_failure(int reason, const fs::path& path) {
    const std::map<std::string, std::string> values{{"path", to_utf8(path)}};
    switch (reason) {
        case ENOSPC:
        case EDQUOT:
        case EFBIG:
            return fail("files.disk-full", fmt::format("There is no room left on the disk for {}.", to_utf8(path)),
                        "Free some space and try again; nothing that was saved is lost.", values);
        case EACCES:
        case EPERM:
        case EROFS:
            return fail("files.read-only", fmt::format("The folder of {} may not be written to.", to_utf8(path)),
                        "Choose a folder where you may write, or change its permissions.", values);
        default:
            return fail("files.unwritable",
                        fmt::format("{} cannot be written: {}.", to_utf8(path), std::strerror(reason)),
                        "Check the path and the disk.", values);
    }
}

Expected<void> write_all(const Descriptor& to, std::string_view bytes, const fs::path& path) {
    while (!bytes.empty()) {
        const ::ssize_t written = ::write(to.number(), bytes.data(), bytes.size());
        if (written < 0 && errno == EINTR) continue;
        if (written < 0) return write_failure(errno, path);
        bytes.remove_prefix(static_cast<std::size_t>(written));
    }
    return {};
}

Descriptor create_new(const fs::path& path) {
    return Descriptor(::open(path.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0644));
}

fs::path temporary_name_in(const fs::path& folder) {
    std::array<std::uint8_t, 12> random{};
    fill_random(random.data(), random.size());
    return folder / (".incoming-" + to_hex(random));
}

fs::path folder_of(const fs::path& file) {
    return file.has_parent_path() ? file.parent_path() : fs::path(".");
}

std::unexpected<Error> unreadable(const fs::path& file, int reason) {
    const std::map<std::string, std::string> values{{"path", to_utf8(file)}};
    if (reason == ENOENT || reason == ENOTDIR) {
        return fail("files.missing", fmt::format("There is no file {}.", to_utf8(file)), "Check the path.", values);
    }
    return fail("files.unreadable", fmt::format("{} cannot be read: {}.", to_utf8(file), std::strerror(reason)),
                "Check that you may read it.", values);
}

}  // namespace

Expected<std::string> read_file(const fs::path& file, std::uint64_t limit) {
    const Descriptor in(::open(file.c_str(), O_RDONLY | O_CLOEXEC));
    if (!in.ok()) return unreadable(file, errno);
    struct stat facts{};
    if (::fstat(in.number(), &facts) != 0) return unreadable(file, errno);
    if (S_ISDIR(facts.st_mode)) return unreadable(file, EISDIR);
    std::string bytes;
    std::vector<char> piece(1U << 16U);
    for (;;) {
        const ::ssize_t got = ::read(in.number(), piece.data(), piece.size());
        if (got < 0 && errno == EINTR) continue;
        if (got < 0) return unreadable(file, errno);
        if (got == 0) return bytes;
        if (bytes.size() + static_cast<std::size_t>(got) > limit) {
            return fail("files.too-large", fmt::format("{} is larger than {} bytes.", to_utf8(file), limit),
                        "This is not the kind of file that was expected here.", {{"path", to_utf8(file)}});
        }
        bytes.append(piece.data(), static_cast<std::size_t>(got));
    }
}

Expected<void> check_is_file(const fs::path& path) {
    struct stat facts{};
    if (::stat(path.c_str(), &facts) != 0) return unreadable(path, errno);
    if (S_ISREG(facts.st_mode)) return {};
    if (S_ISDIR(facts.st_mode)) return unreadable(path, EISDIR);
    return fail("files.unreadable", fmt::format("{} is a pipe or a device, not a file.", to_utf8(path)),
                "Save what comes out of it as a file first.", {{"path", to_utf8(path)}});
}

Expected<void> sync_folder(const fs::path& folder) {
    const Descriptor handle(::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
    if (!handle.ok() || ::fsync(handle.number()) != 0) return write_failure(errno, folder);
    return {};
}

Expected<void> make_folder_durably(const fs::path& folder) {
    std::error_code unknown;  // of a path that cannot be looked at; making it then says why
    if (folder.empty() || fs::is_directory(folder, unknown)) return {};
    if (auto parent = make_folder_durably(folder.parent_path()); !parent) return parent;
    if (::mkdir(folder.c_str(), 0755) != 0) {
        const int reason = errno;
        if (reason != EEXIST) return write_failure(reason, folder);
        // Another program may have made it meanwhile, but what else bears the name is no folder.
        if (!fs::is_directory(folder, unknown)) return write_failure(ENOTDIR, folder);
    }
    return sync_folder(folder_of(folder));
}

Expected<void> write_file_durably(const fs::path& file, std::string_view bytes) {
    const fs::path temporary = temporary_name_in(folder_of(file));
    const auto give_up = [&](std::unexpected<Error> error) -> Expected<void> {
        ::unlink(temporary.c_str());
        return error;
    };
    {
        const Descriptor out = create_new(temporary);
        if (!out.ok()) return write_failure(errno, file);
        if (auto written = write_all(out, bytes, file); !written) return give_up(pass_on(written));
        if (::fsync(out.number()) != 0) return give_up(write_failure(errno, file));
    }
    if (::rename(temporary.c_str(), file.c_str()) != 0) return give_up(write_failure(errno, file));
    return sync_folder(folder_of(file));
}

IncomingFile::IncomingFile(fs::path path, std::string sha256_hex, std::uint64_t size_bytes)
    : path_(std::move(path)), sha256_hex_(std::move(sha256_hex)), size_bytes_(size_bytes) {}

IncomingFile::IncomingFile(IncomingFile&& other) noexcept
    : path_(std::exchange(other.path_, {})),
      sha256_hex_(std::move(other.sha256_hex_)),
      size_bytes_(other.size_bytes_) {}

IncomingFile& IncomingFile::operator=(IncomingFile&& other) noexcept {
    std::swap(path_, other.path_);
    std::swap(sha256_hex_, other.sha256_hex_);
    std::swap(size_bytes_, other.size_bytes_);
    return *this;
}

IncomingFile::~IncomingFile() {
    if (!path_.empty()) ::unlink(path_.c_str());
}

Expected<IncomingFile> IncomingFile::copy(const fs::path& from, const fs::path& temporary_folder) {
    if (auto is_file = check_is_file(from); !is_file) return pass_on(is_file);
    const Descriptor in(::open(from.c_str(), O_RDONLY | O_CLOEXEC));
    if (!in.ok()) return unreadable(from, errno);
    const fs::path temporary = temporary_name_in(temporary_folder);
    const fs::path told = temporary_folder / from.filename();  // nobody knows the temporary name
    const Descriptor out = create_new(temporary);
    if (!out.ok()) return write_failure(errno, told);
    IncomingFile incoming(temporary, {}, 0);  // from here on an error removes the temporary file
    Hasher hasher(HashAlgorithm::sha256);
    std::vector<char> piece(1U << 20U);
    for (;;) {
        const ::ssize_t got = ::read(in.number(), piece.data(), piece.size());
        if (got < 0 && errno == EINTR) continue;
        if (got < 0) return unreadable(from, errno);
        if (got == 0) break;
        const std::string_view bytes(piece.data(), static_cast<std::size_t>(got));
        hasher.update(bytes);
        if (auto written = write_all(out, bytes, told); !written) return pass_on(written);
        incoming.size_bytes_ += bytes.size();
    }
    if (::fsync(out.number()) != 0) return write_failure(errno, told);
    incoming.sha256_hex_ = hasher.finish_hex();
    return incoming;
}

Expected<void> IncomingFile::publish(const fs::path& to) {
    if (::rename(path_.c_str(), to.c_str()) != 0) return write_failure(errno, to);
    path_.clear();
    return sync_folder(folder_of(to));
}

std::string to_utf8(const fs::path& path) {
    const std::u8string text = path.u8string();
    return {text.begin(), text.end()};
}

fs::path path_from_utf8(std::string_view text) {
    return fs::path(std::u8string(text.begin(), text.end()));
}

}  // namespace tedge
