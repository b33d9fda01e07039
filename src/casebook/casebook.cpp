// Creating, opening and closing.
#include "tedge/casebook/casebook.hpp"

#include "book_state.hpp"
#include "dialect.hpp"
#include "platform.hpp"
#include "schema.hpp"
#include "tedge/base/files.hpp"

namespace tedge::casebook {

namespace {

namespace fs = std::filesystem;
using sqlite::Access;
using sqlite::Connection;

std::unexpected<Error> not_a_casebook(const fs::path& folder) {
    return fail("casebook.not-a-casebook", fmt::format("{} is not a casebook.", to_utf8(folder)),
                "Choose the folder that holds casebook.sqlite.", {{"folder", to_utf8(folder)}});
}

std::unexpected<Error> damaged_casebook(const fs::path& folder, std::string_view detail) {
    return fail("casebook.damaged", fmt::format("The casebook {} is damaged: {}.", to_utf8(folder), detail),
                "Put a backup in its place, or make a new casebook and merge this one into it: what can still be read "
                "is taken over.",
                {{"folder", to_utf8(folder)}, {"detail", std::string(detail)}});
}

// Nothing but an altered beginning tells a ruined casebook from a file of another kind; its originals beside it do.
std::unexpected<Error> unreadable_beginning(const fs::path& folder) {
    std::error_code none;
    if (!fs::is_directory(folder / "originals", none)) return not_a_casebook(folder);
    return fail("casebook.damaged",
                fmt::format("The file casebook.sqlite in {} is damaged where it begins, and nothing of it can be read.",
                            to_utf8(folder)),
                "Put a backup in its place. The photographs in its folder of originals are untouched.",
                {{"folder", to_utf8(folder)}});
}

// A database that reads its first page without complaint is one; sqlite3 answers SQLITE_NOTADB otherwise.
bool is_database(const Connection& db) {
    try {
        static_cast<void>(db.integer("PRAGMA user_version"));
        return true;
    } catch (const sqlite::SqlError& problem) {
        // A full disk or a busy book says nothing of what kind of file it is.
        if (problem.code() == sqlite::not_a_database) return false;
        throw;
    }
}

// What a creation that was cut short left behind is empty and may be gone on with.
bool is_unfinished(const fs::path& folder) {
    const Connection look(database_file(folder), Access::read_only);
    try {
        return is_database(look) && schema_state(look) == SchemaState::empty;
    } catch (const sqlite::SqlError& problem) {
        if (problem.code() != sqlite::corrupt) throw;
        return false;
    }
}

bool holds_changes(const Connection& db) {
    return db.integer("SELECT count(*) FROM sqlite_schema WHERE name = 'change' AND type = 'table'") > 0;
}

// As guarded(); but what cannot even be opened cannot be mended in its place either.
template <class Work>
Expected<Casebook> opened(const fs::path& folder, Work work) {
    auto book = guarded(folder, work);
    if (book || book.error().code != "casebook.damaged" || !book.error().values.contains("detail")) return book;
    return damaged_casebook(folder, book.error().values.at("detail"));
}

// The folder's own replica. A copy or a restored backup stands elsewhere than its mark says and gets a new one, or two
// machines would go on counting in one chain.
Uuid adopt_replica(const Connection& db, const fs::path& folder, IdSource& ids) {
    const std::string mark = mark_of_file(database_file(folder));
    auto row = db.prepare("SELECT replica, folder_mark FROM book");
    if (!row.step()) {
        const Uuid replica = ids.next();
        db.run(
            "INSERT INTO book (replica, folder_mark, clock_ms, clock_count, purge_pending, views) "
            "VALUES ($1, $2, 0, 0, 0, '')",
            replica, mark);
        return replica;
    }
    if (row.text(1) == mark) return row.id(0);
    const Uuid replica = ids.next();
    row.reset();
    db.run("UPDATE book SET replica = $1, folder_mark = $2", replica, mark);
    return replica;
}

bool is_in_place(const Connection& db, const fs::path& folder) {
    auto row = db.prepare("SELECT folder_mark FROM book");
    return row.step() && row.text(0) == mark_of_file(database_file(folder));
}

// Views follow the field tables of the program, which may have grown since the book was last open.
void refresh_views(const Connection& db) {
    const std::string wanted = to_hex(sha256(views_text()));
    const auto are_current = [&] {
        auto row = db.prepare("SELECT views FROM book");
        return row.step() && row.text(0) == wanted;
    };
    if (are_current()) return;
    sqlite::ImmediateTransaction transaction(db);
    if (are_current()) return;  // another process was quicker
    create_views(db);
    db.run("UPDATE book SET views = $1", wanted);
    transaction.commit();
}

// Brings the tables up to date, and knows whose folder it is. Writes only where something is to be written.
Uuid make_ready(const Connection& db, const fs::path& folder, IdSource& ids) {
    migrate(db);
    if (!is_in_place(db, folder)) {
        sqlite::ImmediateTransaction transaction(db);
        adopt_replica(db, folder, ids);
        transaction.commit();
    }
    refresh_views(db);
    return stored_replica(db);
}

bool has_log(const fs::path& folder) {
    std::error_code none;
    fs::path log = database_file(folder);
    log += "-wal";
    return fs::file_size(log, none) > 0 && !none;
}

bool has_shared_memory(const fs::path& folder) {
    fs::path memory = database_file(folder);
    memory += "-shm";
    return fs::exists(memory);
}

// A folder made for reading a book whose last commits still lie in its log, which only a writer may move.
fs::path copy_for_reading(const fs::path& folder) {
    std::array<std::uint8_t, 12> random{};
    fill_random(random.data(), random.size());
    const fs::path copy = fs::temp_directory_path() / ("tedge-reading-" + to_hex(random));
    fs::create_directory(copy);
    fs::permissions(copy, fs::perms::owner_all);
    for (const char* ending : {"", "-wal"}) {
        fs::path file = database_file(folder);
        file += ending;
        fs::copy_file(file, copy / file.filename());
        fs::permissions(copy / file.filename(), fs::perms::owner_read | fs::perms::owner_write);
    }
    return copy;
}

struct Reading {
    ReadingCopy copy;
    Connection db;
};

// A folder that cannot be written to has no place for the memory that readers and writers share. Where a writer has
// left one, it is used; where nothing is in the log, the file is read as it lies.
Reading open_for_reading(const fs::path& folder, bool writable) {
    const fs::path file = database_file(folder);
    if (writable || (has_log(folder) && has_shared_memory(folder))) return {{}, Connection(file, Access::read_only)};
    if (!has_log(folder)) return {{}, Connection(file, Access::immutable)};
    const fs::path copied = copy_for_reading(folder);
    return {ReadingCopy(copied), Connection(copied / file.filename(), Access::read_write)};
}

}  // namespace

Casebook::Casebook(std::unique_ptr<State> state) : state_(std::move(state)) {}
Casebook::~Casebook() = default;
Casebook::Casebook(Casebook&&) noexcept = default;
Casebook& Casebook::operator=(Casebook&&) noexcept = default;

Expected<Casebook> Casebook::create(const fs::path& folder, Sources sources) {
    if (auto made = make_folder_durably(folder); !made) return pass_on(made);
    if (!may_write(folder)) return std::unexpected(read_only_error(folder));
    return guarded(folder, [&]() -> Expected<Casebook> {
        const auto taken = [&] {
            return fail("casebook.exists", fmt::format("{} already holds a casebook.", to_utf8(folder)),
                        "Open it, or choose another folder.", {{"folder", to_utf8(folder)}});
        };
        if (fs::exists(database_file(folder)) && !is_unfinished(folder)) return taken();
        Connection db(database_file(folder), Access::read_write);
        const Uuid replica = make_ready(db, folder, *sources.ids);
        if (auto made = make_folder_durably(folder / "originals"); !made) return pass_on(made);
        if (auto synced = sync_folder(folder); !synced) return pass_on(synced);
        return Casebook(
            std::unique_ptr<State>(new State{folder, sources, Opening::created, replica, {}, std::move(db), false}));
    });
}

Expected<Casebook> Casebook::open(const fs::path& folder, Sources sources, bool read_only) {
    return opened(folder, [&]() -> Expected<Casebook> {
        if (!fs::exists(database_file(folder))) {
            return fail("casebook.missing", fmt::format("There is no casebook in {}.", to_utf8(folder)),
                        "Check the path, or create one there.", {{"folder", to_utf8(folder)}});
        }
        const bool writable = may_write(folder) && may_write(database_file(folder));
        Reading reading = open_for_reading(folder, writable);
        if (!is_database(reading.db)) return unreadable_beginning(folder);
        const SchemaState state = schema_state(reading.db);
        if (state == SchemaState::foreign && holds_changes(reading.db)) {
            return damaged_casebook(folder, "its file does not say any more that it is one");
        }
        if (state == SchemaState::foreign || state == SchemaState::empty) return unreadable_beginning(folder);
        if (state == SchemaState::newer || !writable || (read_only && state == SchemaState::current)) {
            const Opening opening = state == SchemaState::newer ? Opening::newer_read_only
                                    : !writable                 ? Opening::folder_read_only
                                                                : Opening::current;
            const Uuid replica = stored_replica(reading.db);
            return Casebook(std::unique_ptr<State>(
                new State{folder, sources, opening, replica, std::move(reading.copy), std::move(reading.db), true}));
        }
        Connection db(database_file(folder), Access::read_write);
        const Uuid replica = make_ready(db, folder, *sources.ids);
        const Opening opening = state == SchemaState::older ? Opening::migrated : Opening::current;
        Casebook book(std::unique_ptr<State>(new State{folder, sources, opening, replica, {}, std::move(db), false}));
        book.purge_if_due();
        return book;
    });
}

Expected<Casebook> Casebook::open_damaged(const fs::path& folder, Sources sources) {
    auto book = guarded(folder, [&]() -> Expected<Casebook> {
        Reading reading = open_for_reading(folder, may_write(folder) && may_write(database_file(folder)));
        allow_damage(reading.db);
        if (!is_database(reading.db) || !holds_changes(reading.db)) return unreadable_beginning(folder);
        return Casebook(std::unique_ptr<State>(new State{folder, sources, Opening::folder_read_only, Uuid{},
                                                         std::move(reading.copy), std::move(reading.db), true}));
    });
    if (!book && book.error().code == "casebook.damaged") return unreadable_beginning(folder);
    return book;
}

Opening Casebook::opening() const {
    return state_->opening;
}
bool Casebook::read_only() const {
    return state_->read_only;
}
const fs::path& Casebook::folder() const {
    return state_->folder;
}
Uuid Casebook::replica() const {
    return state_->replica;
}

}  // namespace tedge::casebook
