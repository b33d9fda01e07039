#include "tedge/usecases/settled_files.hpp"

#include "tedge/usecases/take_in_folder.hpp"

namespace tedge::usecases {

Expected<FileSizes> sizes_in(const std::filesystem::path& folder) {
    const auto files = files_in(folder);
    if (!files) return pass_on(files);
    FileSizes sizes;
    for (const auto& file : *files) {
        std::error_code fault;
        const auto size = std::filesystem::file_size(file, fault);
        if (!fault) sizes[file] = size;  // one that went meanwhile is none
    }
    return sizes;
}

SettledFiles::SettledFiles(const FileSizes& there_before) {
    for (const auto& [file, size] : there_before) told_.insert(file);
}

std::vector<std::filesystem::path> SettledFiles::settled(const FileSizes& there) {
    std::vector<std::filesystem::path> whole;
    for (const auto& [file, size] : there) {
        if (told_.contains(file)) continue;
        const auto before = growing_.find(file);
        if (size > 0 && before != growing_.end() && before->second == size) {
            whole.push_back(file);
            told_.insert(file);
        }
    }
    growing_ = there;
    return whole;
}

}  // namespace tedge::usecases
