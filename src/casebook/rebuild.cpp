// Making anew what is made from the changes: records, conflicts, indexes and views.
#include "book_state.hpp"
#include "change_store.hpp"
#include "dialect.hpp"
#include "schema.hpp"
#include "tedge/base/files.hpp"

namespace tedge::casebook {

namespace {

namespace fs = std::filesystem;
using sqlite::Connection;
using sqlite::SqlError;

bool is_sound(const Connection& db) {
    try {
        return file_faults(db).empty() && index_faults(db, true).empty();
    } catch (const SqlError& problem) {
        if (problem.is_busy() || problem.is_of_disk()) throw;
        return false;
    }
}

// "" where the records cannot be read: no book is the same as that.
std::string readable_projection(const Connection& db) {
    try {
        return dump_projection(db);
    } catch (const SqlError& problem) {
        if (problem.is_busy() || problem.is_of_disk()) throw;
        return "";
    }
}

void fold_all(const Connection& db) {
    for (const Uuid& id : changed_records(db)) refold(db, id);
}

bool rebuild_in_place(const Connection& db) {
    sqlite::ImmediateTransaction transaction(db);
    const std::string before = dump_projection(db);
    db.execute("DELETE FROM conflict; DELETE FROM record;");
    clear_indexes(db);
    fold_all(db);
    const bool identical = dump_projection(db) == before;
    transaction.commit();
    return identical;
}

std::unexpected<Error> changes_unreadable(const fs::path& folder, const SqlError& problem) {
    return fail("casebook.damaged",
                fmt::format("Not all changes of the casebook {} can be read, and records are made from these alone; "
                            "nothing was changed.",
                            to_utf8(folder)),
                "Put a backup in its place, or make a new casebook and merge this one into it: what can still be read "
                "is taken over.",
                {{"folder", to_utf8(folder)}, {"detail", problem.what()}});
}

// A damaged table cannot even be dropped. So the changes, and what else no change holds, are copied into a database
// that is new; the rest is made in it; and then it takes the place of the old one at a stroke.
Expected<bool> rebuild_apart(const Connection& db, const fs::path& folder) {
    const Connection fresh = Connection::in_memory(db);
    migrate(fresh);
    create_views(fresh);
    sqlite::Replacement replacement(database_file(folder), fresh);  // from now on nobody else writes
    const std::string before = readable_projection(db);
    try {
        fresh.attach(database_file(folder), "old");
        copy_what_no_change_holds(fresh, "old");
    } catch (const SqlError& problem) {
        if (problem.is_busy() || problem.is_of_disk()) throw;
        return changes_unreadable(folder, problem);
    }
    fresh.execute("DETACH old");
    {
        sqlite::ImmediateTransaction transaction(fresh);
        fold_all(fresh);
        transaction.commit();
    }
    const bool identical = dump_projection(fresh) == before;
    replacement.finish();
    return identical;
}

}  // namespace

Expected<bool> Casebook::rebuild() {
    if (read_only()) return std::unexpected(read_only_error(folder(), opening()));
    return guarded(folder(), [&]() -> Expected<bool> {
        if (state_->db.in_transaction()) throw std::logic_error("a casebook is not rebuilt inside an act");
        if (is_sound(state_->db)) return rebuild_in_place(state_->db);
        return rebuild_apart(state_->db, folder());
    });
}

}  // namespace tedge::casebook
