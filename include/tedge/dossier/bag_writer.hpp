// Writes a bag: a folder that carries its own inventory and checksums (BagIt File Packaging Format V1.0, RFC 8493).
//
//     bagit.txt  bag-info.txt  manifest-sha256.txt  manifest-sha512.txt  tagmanifest-sha256.txt  tagmanifest-sha512.txt
//     data/…     the payload; every file of it stands in both manifests (section 2.1.3)
//
// Everything is written into a hidden folder beside the target and renamed at the end: the target is there in full or
// not at all.
#pragma once

#include <filesystem>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "tedge/base/clock.hpp"
#include "tedge/base/error.hpp"

namespace tedge::dossier {

// One line of bag-info.txt (section 2.2.2): "External-Description", "Source-Organization", "Internal-Sender-Identifier"
// … Line ends in the value become blanks. Payload-Oxum and Bagging-Date are written by the writer itself.
struct BagInfoField {
    std::string label;
    std::string value;
    friend bool operator==(const BagInfoField&, const BagInfoField&) = default;
};

class BagWriter {
public:
    // Errors: bag.exists (something lies at `target`), files.* when the folder cannot be made.
    [[nodiscard]] static Expected<BagWriter> begin(const std::filesystem::path& target);
    ~BagWriter();  // unfinished: what was written is removed
    BagWriter(BagWriter&&) noexcept;
    BagWriter& operator=(BagWriter&&) noexcept;

    // Adds one file of the payload. `path` is UTF-8 with "/", below data/: "pictures/recto.jpg".
    // Errors: bag.unsafe-path, bag.duplicate-path (also when two names differ only in case or in Unicode form, for they
    // would be one file on another machine), files.*.
    [[nodiscard]] Expected<void> add(std::string_view path, std::string_view bytes);
    [[nodiscard]] Expected<void> add_copy(std::string_view path, const std::filesystem::path& from);

    // Writes the tag files and moves the bag into place; the writer is spent afterwards. The date is that of `now`,
    // UTC. Errors: bag.bad-label (empty, with a colon or a line end), bag.reserved-label, bag.exists, files.*.
    [[nodiscard]] Expected<void> finish(const std::vector<BagInfoField>& info, Instant now);

private:
    struct State;
    explicit BagWriter(std::unique_ptr<State> state);
    std::unique_ptr<State> state_;
};

}  // namespace tedge::dossier
