// A folder for one test, removed afterwards, and quick ways to put files into it.
#pragma once

#include <array>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

#include "tedge/base/digest.hpp"
#include "tedge/base/uuid.hpp"

namespace tedge::test {

class ScratchFolder {
public:
    ScratchFolder() {
        std::array<std::uint8_t, 8> random{};
        fill_random(random.data(), random.size());
        path_ = std::filesystem::temp_directory_path() / ("tedge-dossier-" + to_hex(random));
        std::filesystem::create_directories(path_);
    }
    ~ScratchFolder() {
        std::error_code ignored;
        std::filesystem::remove_all(path_, ignored);
    }
    ScratchFolder(const ScratchFolder&) = delete;
    ScratchFolder& operator=(const ScratchFolder&) = delete;

    [[nodiscard]] const std::filesystem::path& path() const { return path_; }

private:
    std::filesystem::path path_;
};

inline void put(const std::filesystem::path& file, const std::string& bytes) {
    std::filesystem::create_directories(file.parent_path());
    std::ofstream(file, std::ios::binary) << bytes;
}

inline std::string got(const std::filesystem::path& file) {
    std::ostringstream bytes;
    bytes << std::ifstream(file, std::ios::binary).rdbuf();
    return bytes.str();
}

}  // namespace tedge::test
