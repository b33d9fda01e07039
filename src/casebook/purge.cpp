// After an erasure: no byte of what was erased stays in files, indexes, freed pages, the log, or a backup.
//
// The erasing transaction only says that a purge is due; the purge can be done again and again until it succeeds, also
// after a crash, when the book is next opened, or when a backup's disk is there again.
#include "book_state.hpp"
#include "change_store.hpp"
#include "dialect.hpp"
#include "tedge/base/files.hpp"

namespace tedge::casebook {

namespace {

namespace fs = std::filesystem;
using sqlite::Connection;

// True when none is left and a power cut cannot bring one back.
bool remove_erased_files(const Connection& db, const fs::path& folder) {
    bool all_gone = true;
    auto row = db.prepare("SELECT sha256 FROM erased_file");
    while (row.step()) {
        const fs::path file = original_in(folder, row.text(0));
        std::error_code problem;
        const bool removed = fs::remove(file, problem);
        all_gone = all_gone && !problem && (!removed || sync_folder(file.parent_path()).has_value());
    }
    return all_gone;
}

void make_text_index_anew(const Connection& db) {
    sqlite::ImmediateTransaction transaction(db);
    clear_text_index(db);
    auto row = db.prepare("SELECT id FROM record ORDER BY id");
    std::vector<Uuid> ids;
    while (row.step()) ids.push_back(row.id(0));
    for (const Uuid& id : ids) {
        if (const auto record = load_record(db, id)) index_text(db, id, searched_words(*record));
    }
    transaction.commit();
}

// True when nothing that was made from originals is left either.
bool clear_derived(const fs::path& folder) {
    std::error_code problem;
    fs::remove_all(folder / "derived", problem);
    return !problem;
}

// Says that it is done only when nothing of before is left in the folder's files.
void purge_folder(const Connection& db, const fs::path& folder) {
    const bool files_gone = remove_erased_files(db, folder);
    const bool derived_gone = clear_derived(folder);
    make_text_index_anew(db);
    // Freed pages are zeroed already (secure_delete); VACUUM also gives back what lies between cells.
    db.execute("VACUUM");

    // While another program reads, the log cannot be cut.
    if (!truncate_log(db) || !files_gone || !derived_gone) return;
    db.execute("UPDATE book SET purge_pending = 0");
    static_cast<void>(truncate_log(db));
}

// Whether the folder still holds a copy of this book, and not another book made there since.
bool is_copy_of(const Connection& ours, const Connection& theirs) {
    auto oldest = theirs.prepare("SELECT id FROM change ORDER BY id LIMIT 1");
    return !oldest.step() || load_change(ours, oldest.id(0)).has_value();
}

std::vector<std::string> backups_due(const Connection& db) {
    std::vector<std::string> folders;
    auto row = db.prepare("SELECT folder FROM backup WHERE purge_pending <> 0 ORDER BY folder");
    while (row.step()) folders.push_back(row.text(0));
    return folders;
}

}  // namespace

void ask_for_purge(const Connection& db) {
    db.execute("UPDATE book SET purge_pending = 1; UPDATE backup SET purge_pending = 1;");
}

void Casebook::purge_if_due() {
    try {
        const Connection& db = state_->db;
        for (const std::string& backup : backups_due(db)) {
            if (reach_backup(path_from_utf8(backup))) {
                db.run("UPDATE backup SET purge_pending = 0 WHERE folder = $1", backup);
            }
        }
        if (db.integer("SELECT purge_pending FROM book") != 0) purge_folder(db, folder());
    } catch (const sqlite::SqlError&) {
        // A book in use, or a full disk: the erasure is recorded and stays due. Neither it nor an opening fails by it.
        return;
    }
}

// A backup is a book of its own: it takes in what this one knows, the erasures among it, and purges itself. One that is
// away, full or read-only today is asked again another day.
bool Casebook::reach_backup(const fs::path& backup_folder) {
    auto backup = open(backup_folder, state_->sources);
    if (!backup || backup->read_only() || !is_copy_of(state_->db, backup->state_->db)) return false;
    const auto merged = backup->merge_from(*this);
    return merged.has_value() && pending_purges(backup->state_->db).empty();
}

std::vector<std::string> pending_purges(const Connection& db) {
    std::vector<std::string> sentences;
    if (db.integer("SELECT purge_pending FROM book") != 0) {
        sentences.emplace_back(
            "An erasure waits until other programs have closed this casebook and its disk has room; open it once more "
            "then.");
    }
    for (const std::string& backup : backups_due(db)) {
        sentences.push_back(fmt::format("An erasure has not reached the backup {} yet.", backup));
    }
    return sentences;
}

}  // namespace tedge::casebook
