// Quick ways to put files into a folder and to take them out.
#pragma once

#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

namespace tedge::test {

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
