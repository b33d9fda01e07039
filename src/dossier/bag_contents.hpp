// What lies in a bag's folder, and how a name in a manifest is found there.
#pragma once

#include <filesystem>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>

#include "tedge/dossier/bag_verifier.hpp"

namespace tedge::dossier {

// Every regular file below the folder by its path in the bag ("data/a/b.jpg", "bagit.txt"), with its size.
class BagContents {
public:
    // Links and special files become problems of the report and are not listed: a link may lead anywhere.
    static BagContents scan(const std::filesystem::path& folder, BagReport& report);

    [[nodiscard]] bool has(const std::string& path) const { return sizes_.contains(path); }
    [[nodiscard]] const std::map<std::string, std::uint64_t>& sizes() const { return sizes_; }

    // The file that a written name means: as decoded; as it stands, where `literal_too`; or in another Unicode form,
    // which `other_form` then tells.
    struct Found {
        std::string path;
        bool other_form = false;
    };
    [[nodiscard]] std::optional<Found> find(const std::string& written_path, bool literal_too) const;

    // Warns of names in the payload that are one name on other machines.
    void warn_of_twins(BagReport& report) const;

private:
    std::map<std::string, std::uint64_t> sizes_;
    std::map<std::string, std::string> by_composed_form_;
};

[[nodiscard]] inline bool is_payload_path(std::string_view path) {
    return path.starts_with("data/");
}

}  // namespace tedge::dossier
