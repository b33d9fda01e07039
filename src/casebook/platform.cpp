#include "platform.hpp"

#include <fmt/format.h>
#include <sys/stat.h>
#include <sys/statvfs.h>
#include <unistd.h>

#include "tedge/base/files.hpp"
#include "tedge/base/text.hpp"

namespace tedge::casebook {

std::string mark_of_file(const std::filesystem::path& file) {
    struct stat facts{};
    struct statvfs disk{};
    if (::stat(file.c_str(), &facts) != 0 || ::statvfs(file.c_str(), &disk) != 0) return {};
    // machine-id(5): stable, and made anew when a machine is copied properly. Absent in some containers.
    const std::string machine = read_file("/etc/machine-id", 4096).value_or("");
    return fmt::format("{} {} {}", trimmed(machine), disk.f_fsid, facts.st_ino);
}

bool may_write(const std::filesystem::path& path) {
    return ::access(path.c_str(), W_OK) == 0;
}

}  // namespace tedge::casebook
