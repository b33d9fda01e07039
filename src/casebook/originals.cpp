// The files: content-addressed, never modified, never deleted except by an erasure.
#include "book_state.hpp"
#include "change_store.hpp"
#include "tedge/base/files.hpp"
#include "tedge/casebook/field_table.hpp"

namespace tedge::casebook {

namespace {

namespace fs = std::filesystem;

// Puts a copied file under its name, unless the same bytes lie there whole. What lies there damaged gives place: the
// fresh bytes are the ones that its name promises.
Expected<StoredFile> publish(const fs::path& folder, IncomingFile incoming) {
    const fs::path target = original_in(folder, incoming.sha256_hex());
    StoredFile stored{incoming.sha256_hex(), incoming.size_bytes(), fs::exists(target)};
    if (stored.already && hash_file_hex(target, HashAlgorithm::sha256) == stored.sha256) {
        // Whoever renamed it may have been killed before the folder was flushed.
        if (auto synced = sync_folder(target.parent_path()); !synced) return pass_on(synced);
    } else {
        if (auto made = make_folder_durably(target.parent_path()); !made) return pass_on(made);
        if (auto published = incoming.publish(target); !published) return pass_on(published);
    }
    if (auto synced = sync_folder(folder / "originals"); !synced) return pass_on(synced);
    return stored;
}

Expected<IncomingFile> copy_in(const fs::path& folder, const fs::path& file) {
    if (auto made = make_folder_durably(folder / "originals"); !made) return pass_on(made);
    return IncomingFile::copy(file, folder / "originals");
}

std::vector<const Kind*> kinds_with_files() {
    std::vector<const Kind*> kinds;
    for (const Kind* kind : all_kinds()) {
        if (std::ranges::find(kind->fields, FieldType::sha256, &Field::type) != kind->fields.end()) {
            kinds.push_back(kind);
        }
    }
    return kinds;
}

}  // namespace

bool is_marked_damaged(const sqlite::Connection& db, std::string_view sha256) {
    auto row = db.prepare("SELECT 1 FROM damaged_file WHERE sha256 = $1");
    row.bind(sha256);
    return row.step();
}

bool is_digest_name(std::string_view name) {
    return name.size() == 64 && name.find_first_not_of("0123456789abcdef") == std::string_view::npos;
}

fs::path original_in(const fs::path& folder, std::string_view sha256) {
    return folder / "originals" / std::string(sha256.substr(0, 2)) / std::string(sha256);
}

Expected<void> take_over(const fs::path& folder, const fs::path& file, const std::string& sha256) {
    auto incoming = copy_in(folder, file);
    if (!incoming) return pass_on(incoming);
    if (incoming->sha256_hex() != sha256) {
        return fail("casebook.damaged-original", fmt::format("The original {} is damaged there.", sha256),
                    "Fetch it from another copy of the book.", {{"sha256", sha256}});
    }
    auto stored = publish(folder, *std::move(incoming));
    return stored ? Expected<void>() : pass_on(stored);
}

std::optional<std::string> file_of(const FoldedRecord& record) {
    const Kind* kind = find_kind(record.kind);
    if (kind == nullptr) return std::nullopt;
    for (const Field& field : kind->fields) {
        const auto found = record.public_body.find(field.name);
        if (field.type != FieldType::sha256 || found == record.public_body.end() || !found->is_string()) continue;
        std::string name = found->get<std::string>();
        if (is_digest_name(name)) return name;
    }
    return std::nullopt;
}

std::map<std::string, std::vector<Uuid>> named_files(const sqlite::Connection& db) {
    std::map<std::string, std::vector<Uuid>> names;
    for (const Kind* kind : kinds_with_files()) {
        for (const FoldedRecord& record : load_records_of_kind(db, kind->name)) {
            if (const auto name = file_of(record)) names[*name].push_back(record.id);
        }
    }
    return names;
}

Expected<StoredFile> Casebook::store_original(const fs::path& file) {
    if (read_only()) return std::unexpected(read_only_error(folder(), opening()));
    return guarded(folder(), [&]() -> Expected<StoredFile> {
        if (auto is_file = check_is_file(file); !is_file) return pass_on(is_file);
        // Asked before the file lies under its name: what was erased must not come back even for a moment.
        const auto digest = hash_file_hex(file, HashAlgorithm::sha256);
        if (digest && is_erased_file(state_->db, *digest)) {
            return fail("casebook.file-erased",
                        fmt::format("{} was erased from this casebook for good.", to_utf8(file)),
                        "Keep it outside the casebook if you may keep it at all.", {{"path", to_utf8(file)}});
        }
        auto incoming = copy_in(folder(), file);
        if (!incoming) return pass_on(incoming);
        auto stored = publish(folder(), *std::move(incoming));
        if (stored && is_marked_damaged(state_->db, stored->sha256)) {
            state_->db.run("DELETE FROM damaged_file WHERE sha256 = $1", stored->sha256);
        }
        return stored;
    });
}

Expected<std::vector<std::string>> Casebook::damaged_originals() {
    return guarded(folder(), [&]() -> Expected<std::vector<std::string>> {
        std::vector<std::string> names;
        auto row = state_->db.prepare("SELECT sha256 FROM damaged_file ORDER BY sha256");
        while (row.step()) names.push_back(row.text(0));
        return names;
    });
}

fs::path Casebook::original_path(std::string_view sha256) const {
    return original_in(folder(), sha256);
}
fs::path Casebook::derived_folder() const {
    return folder() / "derived";
}

}  // namespace tedge::casebook
