// The files: content-addressed, never modified, never deleted except by an erasure.
#include "book_state.hpp"
#include "tedge/base/files.hpp"

namespace tedge::casebook {

namespace fs = std::filesystem;

fs::path original_in(const fs::path& folder, std::string_view sha256) {
    return folder / "originals" / std::string(sha256.substr(0, 2)) / std::string(sha256);
}

Expected<StoredFile> take_in(const fs::path& folder, const fs::path& file) {
    const fs::path originals = folder / "originals";
    if (auto made = make_folder_durably(originals); !made) return pass_on(made);
    auto incoming = IncomingFile::copy(file, originals);
    if (!incoming) return pass_on(incoming);
    const fs::path target = original_in(folder, incoming->sha256_hex());
    StoredFile stored{incoming->sha256_hex(), incoming->size_bytes(), fs::exists(target)};
    // The same bytes may lie there damaged; then the fresh copy takes their place.
    if (stored.already && hash_file_hex(target, HashAlgorithm::sha256) == stored.sha256) return stored;
    if (auto made = make_folder_durably(target.parent_path()); !made) return pass_on(made);
    if (auto published = incoming->publish(target); !published) return pass_on(published);
    if (auto synced = sync_folder(originals); !synced) return pass_on(synced);
    return stored;
}

std::optional<std::string> file_of(const FoldedRecord& record) {
    const auto found = record.public_body.find("sha256");
    if (found == record.public_body.end() || !found->is_string()) return std::nullopt;
    return found->get<std::string>();
}

std::set<std::string> named_files(const sqlite::Connection& db) {
    std::set<std::string> names;
    for (const std::string_view kind : {"photograph", "document"}) {
        for (const FoldedRecord& record : load_records_of_kind(db, kind)) {
            if (const auto name = file_of(record)) names.insert(*name);
        }
    }
    return names;
}

Expected<StoredFile> Casebook::store_original(const fs::path& file) {
    if (read_only()) return std::unexpected(read_only_error(folder()));
    return guarded(folder(), [&]() -> Expected<StoredFile> {
        // Asked before the file lies under its name: what was erased must not come back even for a moment.
        const auto digest = hash_file_hex(file, HashAlgorithm::sha256);
        if (digest && is_erased_file(state_->db, *digest)) {
            return fail("casebook.file-erased",
                        fmt::format("{} was erased from this casebook for good.", to_utf8(file)),
                        "Keep it outside the casebook if you may keep it at all.", {{"path", to_utf8(file)}});
        }
        return take_in(folder(), file);
    });
}

fs::path Casebook::original_path(std::string_view sha256) const {
    return original_in(folder(), sha256);
}
fs::path Casebook::derived_folder() const {
    return folder() / "derived";
}

}  // namespace tedge::casebook
