// A folder of its own for one test, gone when the test ends.
#pragma once

#include <filesystem>
#include <string>

#include "tedge/base/digest.hpp"
#include "tedge/base/uuid.hpp"

namespace tedge {

class TemporaryFolder {
public:
    TemporaryFolder() {
        std::array<std::uint8_t, 8> random{};
        fill_random(random.data(), random.size());
        path_ = std::filesystem::temp_directory_path() / ("tedge-test-" + to_hex(random));
        std::filesystem::create_directories(path_);
    }
    TemporaryFolder(const TemporaryFolder&) = delete;
    TemporaryFolder& operator=(const TemporaryFolder&) = delete;
    ~TemporaryFolder() {
        std::error_code ignored;
        std::filesystem::remove_all(path_, ignored);
    }

    [[nodiscard]] const std::filesystem::path& path() const { return path_; }
    [[nodiscard]] std::filesystem::path operator/(const std::filesystem::path& name) const { return path_ / name; }

private:
    std::filesystem::path path_;
};

}  // namespace tedge
