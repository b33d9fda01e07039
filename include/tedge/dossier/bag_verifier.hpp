// Says whether a bag is complete and valid, and if not, why (BagIt V1.0, RFC 8493; the drafts 0.93 to 0.97 are read
// too).
//
// Nothing is ever fetched, no link is followed, and no path that leads out of the bag is opened.
#pragma once

#include <cstdint>
#include <filesystem>
#include <string>
#include <vector>

#include "tedge/base/error.hpp"
#include "tedge/base/progress.hpp"

namespace tedge::dossier {

struct BagProblem {
    std::string code;     // "bag.checksum-differs"
    std::string path;     // the file it is about, as written in the bag; may be empty
    std::string message;  // one sentence
    friend bool operator==(const BagProblem&, const BagProblem&) = default;
};

// complete: every required file is there, every file a manifest names is there, and nothing lies in data/ that a
// manifest does not name (section 3). valid: complete, well formed, and every checksum agrees.
struct BagReport {
    bool complete = false;
    bool valid = false;
    bool signed_ = false;                 // a signature was found and agrees
    std::string version;                  // "1.0"; empty where bagit.txt does not say
    std::vector<std::string> algorithms;  // of the payload manifests that could be checked: "sha256"
    std::uint64_t payload_files = 0;
    std::uint64_t payload_bytes = 0;
    std::vector<BagProblem> problems;  // each makes the bag invalid
    std::vector<BagProblem> warnings;  // worth a look, the bag may still be valid
};

// Problem codes
//   declaration  bag.no-declaration bag.bad-declaration bag.byte-order-mark bag.unknown-version bag.unknown-encoding
//   inventory    bag.no-payload-folder bag.no-manifest bag.missing-file bag.unlisted-file bag.not-in-every-manifest
//                bag.manifest-not-listed bag.wrong-oxum
//   form         bag.malformed-line bag.listed-twice bag.unsafe-path bag.outside-payload bag.not-for-tag-manifest
//                bag.symbolic-link bag.special-file bag.bad-fetch bag.not-text
//   content      bag.checksum-differs bag.unreadable-file bag.no-known-algorithm
// Warning codes
//   bag.case-twins bag.name-form bag.leading-dot bag.binary-star bag.unknown-algorithm bag.byte-order-mark
// Errors: bag.not-a-folder, "cancelled".
[[nodiscard]] Expected<BagReport> verify_bag(const std::filesystem::path& folder, const Progress& progress = {});

}  // namespace tedge::dossier
