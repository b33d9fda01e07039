// Creating, opening and closing.
#include "tedge/casebook/casebook.hpp"

#include <sys/stat.h>
#include <unistd.h>

#include "book_state.hpp"
#include "dialect.hpp"
#include "schema.hpp"
#include "tedge/base/files.hpp"

namespace tedge::casebook {

namespace {

namespace fs = std::filesystem;
using sqlite::Access;
using sqlite::Connection;

// A database file keeps this mark while it stays where it was made or is moved on one disk; a copy or a restored backup
// has another. Such a folder is a replica of its own, or two machines would go on counting in one chain.
std::string folder_mark(const fs::path& folder) {
    struct stat facts{};
    if (::stat(database_file(folder).c_str(), &facts) != 0) return {};
    return fmt::format("{}", facts.st_ino);
}

bool may_write(const fs::path& folder) {
    return ::access(folder.c_str(), W_OK) == 0 && ::access(database_file(folder).c_str(), W_OK) == 0;
}

std::unexpected<Error> not_a_casebook(const fs::path& folder) {
    return fail("casebook.not-a-casebook", fmt::format("{} is not a casebook.", to_utf8(folder)),
                "Choose the folder that holds casebook.sqlite.", {{"folder", to_utf8(folder)}});
}

// A database that reads its first page without complaint is one; sqlite3 answers SQLITE_NOTADB otherwise.
bool is_database(const Connection& db) {
    try {
        static_cast<void>(db.integer("PRAGMA user_version"));
        return true;
    } catch (const sqlite::SqlError&) {
        return false;
    }
}

Uuid adopt_replica(const Connection& db, const fs::path& folder, IdSource& ids) {
    auto row = db.prepare("SELECT replica, folder_mark FROM book");
    if (!row.step()) {
        const Uuid replica = ids.next();
        db.run("INSERT INTO book (replica, folder_mark, clock_ms, clock_count, purge_pending) VALUES ($1, $2, 0, 0, 0)",
               replica, folder_mark(folder));
        return replica;
    }
    if (row.text(1) == folder_mark(folder)) return row.id(0);
    const Uuid replica = ids.next();
    row.reset();
    db.run("UPDATE book SET replica = $1, folder_mark = $2", replica, folder_mark(folder));
    return replica;
}

Uuid stored_replica(const Connection& db) {
    auto row = db.prepare("SELECT replica FROM book");
    return row.step() ? row.id(0) : Uuid{};
}

// A purge that another reader held up is finished as soon as the book is opened again.
void finish_purge(const Connection& db) {
    if (db.integer("SELECT purge_pending FROM book") != 0 && truncate_log(db)) {
        db.execute("UPDATE book SET purge_pending = 0");
    }
}

}  // namespace

Casebook::Casebook(std::unique_ptr<State> state) : state_(std::move(state)) {}
Casebook::~Casebook() = default;
Casebook::Casebook(Casebook&&) noexcept = default;
Casebook& Casebook::operator=(Casebook&&) noexcept = default;

Expected<Casebook> Casebook::create(const fs::path& folder, Sources sources) {
    if (fs::exists(database_file(folder))) {
        return fail("casebook.exists", fmt::format("{} already holds a casebook.", to_utf8(folder)),
                    "Open it, or choose another folder.", {{"folder", to_utf8(folder)}});
    }
    if (auto made = make_folder_durably(folder); !made) return pass_on(made);
    if (::access(folder.c_str(), W_OK) != 0) return std::unexpected(read_only_error(folder));
    return guarded(folder, [&]() -> Expected<Casebook> {
        Connection db(database_file(folder), Access::read_write);
        migrate(db);
        const Uuid replica = [&] {
            sqlite::ImmediateTransaction transaction(db);
            const Uuid adopted = adopt_replica(db, folder, *sources.ids);
            transaction.commit();
            return adopted;
        }();
        if (auto made = make_folder_durably(folder / "originals"); !made) return pass_on(made);
        if (auto synced = sync_folder(folder); !synced) return pass_on(synced);
        return Casebook(
            std::unique_ptr<State>(new State{folder, sources, Opening::created, replica, std::move(db), false}));
    });
}

Expected<Casebook> Casebook::open(const fs::path& folder, Sources sources, bool read_only) {
    if (!fs::exists(database_file(folder))) {
        return fail("casebook.missing", fmt::format("There is no casebook in {}.", to_utf8(folder)),
                    "Check the path, or create one there.", {{"folder", to_utf8(folder)}});
    }
    return guarded(folder, [&]() -> Expected<Casebook> {
        const bool writable = may_write(folder);
        const auto as_read_only = [&](Opening opening) -> Expected<Casebook> {
            // In a folder that cannot be written, the log cannot be shared: the file is read as it lies.
            Connection db(database_file(folder), writable ? Access::read_only : Access::immutable);
            const Uuid replica = stored_replica(db);
            return Casebook(std::unique_ptr<State>(new State{folder, sources, opening, replica, std::move(db), true}));
        };
        SchemaState state = SchemaState::current;
        {
            const Connection look(database_file(folder), writable ? Access::read_only : Access::immutable);
            if (!is_database(look)) return not_a_casebook(folder);
            state = schema_state(look);
        }
        if (state == SchemaState::foreign || state == SchemaState::empty) return not_a_casebook(folder);
        if (state == SchemaState::newer) return as_read_only(Opening::newer_read_only);
        if (!writable) return as_read_only(Opening::folder_read_only);
        if (read_only && state == SchemaState::current) return as_read_only(Opening::current);

        Connection db(database_file(folder), Access::read_write);
        if (state == SchemaState::older) migrate(db);
        Uuid replica = stored_replica(db);
        {
            auto mark = db.prepare("SELECT folder_mark FROM book");
            const bool ours = mark.step() && mark.text(0) == folder_mark(folder);
            mark.reset();
            if (!ours) {
                sqlite::ImmediateTransaction transaction(db);
                replica = adopt_replica(db, folder, *sources.ids);
                transaction.commit();
            }
        }
        finish_purge(db);
        const Opening opening = state == SchemaState::older ? Opening::migrated : Opening::current;
        return Casebook(std::unique_ptr<State>(new State{folder, sources, opening, replica, std::move(db), false}));
    });
}

Opening Casebook::opening() const {
    return state_->opening;
}
bool Casebook::read_only() const {
    return state_->read_only();
}
const fs::path& Casebook::folder() const {
    return state_->folder;
}
Uuid Casebook::replica() const {
    return state_->replica;
}

}  // namespace tedge::casebook
