#include "bag_contents.hpp"

#include "bag_path.hpp"
#include "tedge/base/files.hpp"

namespace tedge::dossier {

namespace fs = std::filesystem;

BagContents BagContents::scan(const fs::path& folder, BagReport& report) {
    BagContents contents;
    std::error_code failure;
    fs::recursive_directory_iterator entries(folder, fs::directory_options::none, failure);
    for (; !failure && entries != fs::recursive_directory_iterator(); entries.increment(failure)) {
        std::error_code ignored;
        const auto status = entries->symlink_status(ignored);
        const std::string path = to_utf8(entries->path().lexically_relative(folder));
        if (fs::is_directory(status)) continue;
        if (fs::is_symlink(status)) {
            report.problems.push_back({"bag.symbolic-link", path, path + " is a link; a bag holds files themselves."});
        } else if (!fs::is_regular_file(status)) {
            report.problems.push_back({"bag.special-file", path, path + " is neither a file nor a folder."});
        } else {
            contents.sizes_[path] = entries->file_size(ignored);
            contents.by_composed_form_.emplace(composed_form(path), path);
        }
    }
    if (failure) report.problems.push_back({"bag.unreadable-file", "", "Part of the folder could not be read."});
    return contents;
}

std::optional<BagContents::Found> BagContents::find(const std::string& written_path, bool literal_too) const {
    const std::string decoded = percent_decoded(written_path);
    if (has(decoded)) return Found{decoded, false};
    if (literal_too && has(written_path)) return Found{written_path, false};
    const auto same = by_composed_form_.find(composed_form(decoded));
    if (same == by_composed_form_.end()) return std::nullopt;
    return Found{same->second, true};
}

void BagContents::warn_of_twins(BagReport& report) const {
    std::map<std::string, std::string> seen;
    for (const auto& [path, size] : sizes_) {
        if (!is_payload_path(path)) continue;
        const auto [first, fresh] = seen.emplace(folded_form(path), path);
        if (fresh) continue;
        const bool form_only = composed_form(path) == composed_form(first->second);
        report.warnings.push_back({form_only ? "bag.name-form" : "bag.case-twins", path,
                                   path + " and " + first->second + " would be one file on some machines."});
    }
}

}  // namespace tedge::dossier
