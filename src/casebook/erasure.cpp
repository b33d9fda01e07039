// Erasing by law or term: what an erase change asks for, here and wherever it travels.
#include <algorithm>

#include "book_state.hpp"
#include "canonical_json.hpp"
#include "change_store.hpp"
#include "dialect.hpp"
#include "schema.hpp"
#include "tedge/base/files.hpp"

namespace tedge::casebook {

namespace {

namespace fs = std::filesystem;
using nlohmann::json;
using sqlite::Connection;

std::vector<std::string> files_named_by(const Change& erase) {
    std::vector<std::string> names;
    if (!erase.public_payload) return names;
    const auto payload = parse_json(erase.public_payload->text);
    if (!payload || !payload->is_object() || !payload->contains("files")) return names;
    for (const json& name : (*payload)["files"]) {
        if (name.is_string()) names.push_back(name.get<std::string>());
    }
    return names;
}

void remove_erased_files(const Connection& db, const fs::path& folder) {
    auto row = db.prepare("SELECT sha256 FROM erased_file");
    while (row.step()) {
        std::error_code ignored;  // gone already is as good
        fs::remove(original_in(folder, row.text(0)), ignored);
    }
}

void make_text_index_anew(const Connection& db) {
    clear_text_index(db);
    auto row = db.prepare("SELECT id FROM record ORDER BY id");
    std::vector<Uuid> ids;
    while (row.step()) ids.push_back(row.id(0));
    for (const Uuid& id : ids) {
        if (const auto record = load_record(db, id)) index_text(db, id, searched_words(*record));
    }
}

// A backup is a book of its own: the erasing changes are put in if it does not have them, then it purges itself.
Expected<void> purge_backup(const Connection& db, const fs::path& backup_folder) {
    const fs::path file = database_file(backup_folder);
    if (!fs::exists(file)) return {};
    const Connection backup(file, sqlite::Access::read_write);
    {
        sqlite::ImmediateTransaction transaction(backup);
        auto row = db.prepare("SELECT id FROM change WHERE operation = 'erase' ORDER BY id");
        while (row.step()) {
            const auto erase = load_change(db, row.id(0));
            if (!erase || changes_of_record(backup, erase->record).empty()) continue;
            if (!load_change(backup, erase->id)) insert_change(backup, *erase);
            apply_erasures(backup, erase->record);
            note_erased_files(backup, erase->record);
            refold(backup, erase->record);
        }
        transaction.commit();
    }
    return purge(backup, backup_folder);
}

std::vector<fs::path> known_backups(const Connection& db) {
    std::vector<fs::path> folders;
    auto row = db.prepare("SELECT folder FROM backup ORDER BY folder");
    while (row.step()) folders.push_back(path_from_utf8(row.text(0)));
    return folders;
}

}  // namespace

bool apply_erasures(const Connection& db, const Uuid& record) {
    const std::vector<Change> changes = changes_of_record(db, record);
    bool any = false;
    for (const Change& erase : changes) {
        if (erase.operation != Operation::erase) continue;
        const std::vector<bool> after = has_seen(changes, erase.id);
        for (std::size_t i = 0; i < changes.size(); ++i) {
            if (after[i] || !changes[i].personal_payload) continue;
            drop_personal_payload(db, changes[i].id);
            any = true;
        }
    }
    return any;
}

void note_erased_files(const Connection& db, const Uuid& record) {
    for (const Change& change : changes_of_record(db, record)) {
        if (change.operation != Operation::erase) continue;
        for (const std::string& name : files_named_by(change)) {
            db.run("INSERT INTO erased_file (sha256) VALUES ($1) ON CONFLICT (sha256) DO NOTHING", name);
        }
    }
}

bool is_erased_file(const Connection& db, std::string_view sha256) {
    auto row = db.prepare("SELECT 1 FROM erased_file WHERE sha256 = $1");
    row.bind(sha256);
    return row.step();
}

Expected<void> purge(const Connection& db, const fs::path& folder) {
    remove_erased_files(db, folder);
    std::error_code ignored;  // disposable: whatever cannot be removed is overwritten when it is made again
    fs::remove_all(folder / "derived", ignored);
    {
        sqlite::ImmediateTransaction transaction(db);
        make_text_index_anew(db);
        transaction.commit();
    }
    for (const fs::path& backup : known_backups(db)) {
        if (auto done = purge_backup(db, backup); !done) return done;
    }
    // Freed pages are zeroed already (secure_delete); VACUUM gives them back, so that no page of before is left over.
    db.execute("VACUUM");
    // While another program reads, the log cannot be cut; it is tried again whenever the book is opened.
    const bool cut = truncate_log(db);
    db.run("UPDATE book SET purge_pending = $1", cut ? 0 : 1);
    if (cut) static_cast<void>(truncate_log(db));
    return {};
}

Expected<void> Casebook::erase(const Uuid& author, const Uuid& record, std::string_view reason) {
    if (read_only()) return std::unexpected(read_only_error(folder()));
    return guarded(folder(), [&]() -> Expected<void> {
        const Connection& db = state_->db;
        {
            sqlite::ImmediateTransaction transaction(db);
            const auto folded = load_record(db, record);
            if (!folded)
                return fail("casebook.no-such-record", "There is no such record.", "Choose one from the list.");
            json payload = json::object();
            if (const auto file = folded->kind == "document" ? file_of(*folded) : std::nullopt) {
                for (const std::string_view kind : {"photograph", "document"}) {
                    for (const FoldedRecord& other : load_records_of_kind(db, kind)) {
                        if (other.id == record || file_of(other) != file) continue;
                        return fail("casebook.file-shared", "Another record still needs the file of this document.",
                                    "Erase or change that record first.", {{"record", to_text(other.id)}});
                    }
                }
                payload["files"] = json::array({*file});
            }
            NewChange made;
            made.author = author;
            made.case_id = folded->case_id;
            made.record = record;
            made.kind = folded->kind;
            made.schema = folded->schema;
            made.operation = Operation::erase;
            made.seen = folded->newest;
            made.public_text = canonical(payload);
            made.reason = std::string(reason);
            append_change(db, state_->replica, state_->sources, made);
            apply_erasures(db, record);
            note_erased_files(db, record);
            refold(db, record);
            transaction.commit();
        }
        return purge(db, folder());
    });
}

Expected<void> Casebook::back_up(const fs::path& to_folder) {
    return guarded(folder(), [&]() -> Expected<void> {
        if (fs::exists(database_file(to_folder))) {
            return fail("casebook.exists", fmt::format("{} already holds a casebook.", to_utf8(to_folder)),
                        "Choose an empty folder for the backup.");
        }
        if (auto made = make_folder_durably(to_folder); !made) return made;
        for (const std::string& name : named_files(state_->db)) {
            const fs::path from = original_in(folder(), name);
            if (!fs::exists(from)) continue;
            if (auto taken = take_in(to_folder, from); !taken) return pass_on(taken);
        }
        state_->db.copy_to(database_file(to_folder));
        if (!read_only()) {
            state_->db.run("INSERT INTO backup (folder) VALUES ($1) ON CONFLICT (folder) DO NOTHING",
                           to_utf8(fs::absolute(to_folder)));
        }
        return {};
    });
}

}  // namespace tedge::casebook
