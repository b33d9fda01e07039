// A folder of its own for one test, gone when the test ends.
#pragma once

#include <filesystem>
#include <string>

#include "tedge/base/digest.hpp"
#include "tedge/base/uuid.hpp"

namespace tedge {

class TemporaryFolder {
public:
    explicit TemporaryFolder(const std::filesystem::path& in = std::filesystem::temp_directory_path()) {
        std::array<std::uint8_t, 8> random{};
        fill_random(random.data(), random.size());
        path_ = in / ("tedge-test-" + to_hex(random));
        std::filesystem::create_directories(path_);
    }
    TemporaryFolder(const TemporaryFolder&) = delete;
    TemporaryFolder& operator=(const TemporaryFolder&) = delete;
    ~TemporaryFolder() {
        std::error_code ignored;
        std::filesystem::remove_all(path_, ignored);
    }

    // Memory where the machine offers it as a folder: for tests of many acts whose durability is tested elsewhere.
    [[nodiscard]] static std::filesystem::path quick_place() {
        const std::filesystem::path memory = "/dev/shm";
        std::error_code none;
        const auto room = std::filesystem::space(memory, none);
        const bool usable = !none && room.available > (std::uintmax_t{32} << 20U);
        return usable ? memory : std::filesystem::temp_directory_path();
    }

    [[nodiscard]] const std::filesystem::path& path() const { return path_; }
    [[nodiscard]] std::filesystem::path operator/(const std::filesystem::path& name) const { return path_ / name; }

private:
    std::filesystem::path path_;
};

}  // namespace tedge
