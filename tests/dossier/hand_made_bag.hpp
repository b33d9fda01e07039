// A bag of our own making, sealed by hand and not by the writer under test elsewhere, to break one rule at a time.
#pragma once

#include <algorithm>
#include <catch2/catch.hpp>
#include <map>

#include "quick_files.hpp"
#include "tedge/base/digest.hpp"
#include "tedge/dossier/bag_verifier.hpp"
#include "temporary_folder.hpp"

namespace tedge::dossier::test_bags {

using tedge::test::put;

inline std::string sum(const std::string& bytes, HashAlgorithm algorithm = HashAlgorithm::sha256) {
    Hasher hasher(algorithm);
    hasher.update(bytes);
    return hasher.finish_hex();
}

// A bag held as its files.
struct HandMadeBag {
    std::map<std::string, std::string> files;

    static HandMadeBag sound() {
        HandMadeBag bag;
        bag.files["bagit.txt"] = "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n";
        bag.files["data/hello.txt"] = "hello\n";
        bag.files["data/deep/er/two.bin"] = std::string("\0\1\2", 3);
        bag.files["bag-info.txt"] = "Source-Organization: A small gallery\nPayload-Oxum: 9.2\n";
        bag.list_payload();
        bag.list_tags();
        return bag;
    }
    void list_payload() {
        std::string lines;
        for (const auto& [path, bytes] : files)
            if (path.starts_with("data/")) lines += sum(bytes) + "  " + path + "\n";
        files["manifest-sha256.txt"] = lines;
    }
    void list_tags() {
        std::string lines;
        for (const auto& [path, bytes] : files)
            if (!path.starts_with("data/") && !path.starts_with("tagmanifest"))
                lines += sum(bytes) + "  " + path + "\n";
        files["tagmanifest-sha256.txt"] = lines;
    }
    BagReport report() const {
        const TemporaryFolder scratch;
        for (const auto& [path, bytes] : files) put(scratch.path() / path, bytes);
        const auto checked = verify_bag(scratch.path());
        REQUIRE(checked);
        return *checked;
    }
};

inline std::vector<std::string> codes(const std::vector<BagProblem>& problems) {
    std::vector<std::string> found;
    for (const auto& problem : problems) found.push_back(problem.code);
    std::ranges::sort(found);
    found.erase(std::unique(found.begin(), found.end()), found.end());
    return found;
}

using Codes = std::vector<std::string>;

// The manifest of the sound bag with one more line, and the tags sealed again.
inline HandMadeBag with_line(const std::string& line, const std::string& file = "manifest-sha256.txt") {
    auto bag = HandMadeBag::sound();
    bag.files[file] += line + "\n";
    if (!file.starts_with("tagmanifest")) bag.list_tags();
    return bag;
}

}  // namespace tedge::dossier::test_bags
