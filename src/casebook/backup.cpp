// Backups: a folder that is a casebook itself.
#include "book_state.hpp"
#include "dialect.hpp"
#include "recovery.hpp"
#include "tedge/base/files.hpp"

namespace tedge::casebook {

namespace {

namespace fs = std::filesystem;
using sqlite::Connection;

// Whoever goes on writing in the copy is another replica, and has backups of its own.
void make_independent(const Connection& copy) {
    copy.execute("UPDATE book SET folder_mark = ''; DELETE FROM backup;");
}

bool is_known_backup(const Connection& db, const std::string& place) {
    auto row = db.prepare("SELECT 1 FROM backup WHERE folder = $1");
    row.bind(place);
    return row.step();
}

void remember(const Connection& db, const std::string& place) {
    db.run("INSERT INTO backup (folder, purge_pending) VALUES ($1, 0) ON CONFLICT DO NOTHING", place);
}

// What the copied book names, where its records or changes can be read at all.
std::map<std::string, std::vector<Uuid>> files_of(const Connection& copy) {
    try {
        return named_files(copy);
    } catch (const sqlite::SqlError& problem) {
        if (problem.is_busy() || problem.is_of_disk()) throw;
        std::vector<std::string> told_already;
        return readable_files(copy, readable_changes(copy, told_already));
    }
}

bool is_fault_of_original(const Error& error) {
    return error.code == "casebook.damaged-original" || error.code == "files.missing" ||
           error.code == "files.unreadable";
}

LeftOut left_out(const std::string& name, const std::vector<Uuid>& records, const Error& error) {
    const std::string_view what = error.code == "casebook.damaged-original" ? "was altered here"
                                  : error.code == "files.missing"           ? "is missing here"
                                                                            : "cannot be read here";
    return {name, records,
            fmt::format("The original {} of the record {} {} and is not in the copy; fetch it from another copy of the "
                        "book.",
                        name, to_text(records.front()), what)};
}

// One that is altered, missing or cannot be read keeps none of the others from being copied.
Expected<void> copy_originals(const Connection& copy, const fs::path& from_folder, const fs::path& to_folder,
                              BackupReport& report) {
    for (const auto& [name, records] : files_of(copy)) {
        if (is_erased_file(copy, name)) continue;
        const auto taken = take_over(to_folder, original_in(from_folder, name), name);
        if (taken) {
            ++report.originals;
        } else if (is_fault_of_original(taken.error())) {
            report.left_out.push_back(left_out(name, records, taken.error()));
        } else {
            return taken;
        }
    }
    return {};
}

// A damaged database is copied as it is: there may be no other.
std::vector<std::string> database_problems(const Connection& copy) {
    std::vector<std::string> problems;
    try {
        problems = file_faults(copy);
    } catch (const sqlite::SqlError& problem) {
        if (problem.is_busy() || problem.is_of_disk()) throw;
        problems.emplace_back(problem.what());
    }
    for (std::string& problem : problems) {
        problem = fmt::format("The database is damaged, and so is its copy: {}.", problem);
    }
    return problems;
}

Expected<BackupReport> fill(const fs::path& database, const fs::path& from_folder, const fs::path& to_folder) {
    const Connection copy(database, sqlite::Access::read_write);
    make_independent(copy);
    BackupReport report;
    report.problems = database_problems(copy);
    if (auto copied = copy_originals(copy, from_folder, to_folder, report); !copied) return pass_on(copied);
    return report;
}

constexpr std::string_view unfinished_sign = ".incoming-";

// What a copy that was killed left behind holds what an erasure would not find. A slower copy of the same book loses
// its file with it, and learns that the book is there.
void remove_unfinished(const fs::path& folder) {
    std::error_code none;
    for (const auto& entry : fs::directory_iterator(folder, none)) {
        if (to_utf8(entry.path().filename()).starts_with(unfinished_sign)) fs::remove(entry.path(), none);
    }
}

// A file of a database with what sqlite3 puts beside it, gone at the end unless it got another name.
class Unfinished {
public:
    explicit Unfinished(fs::path file) : file_(std::move(file)) { remove(); }
    Unfinished(const Unfinished&) = delete;
    Unfinished& operator=(const Unfinished&) = delete;
    ~Unfinished() { remove(); }
    [[nodiscard]] const fs::path& file() const { return file_; }

private:
    void remove() const {
        for (const char* ending : {"", "-wal", "-shm"}) {
            std::error_code none;
            fs::path beside = file_;
            fs::remove(beside += ending, none);
        }
    }
    fs::path file_;
};

std::unexpected<Error> holds_a_casebook(const fs::path& to_folder) {
    return fail("casebook.exists", fmt::format("{} already holds a casebook.", to_utf8(to_folder)),
                "Choose an empty folder for the backup.");
}

// Two programs may copy to one folder at once: each into a file of its own, and the first that is ready has the name.
Expected<void> give_name(const fs::path& unfinished, const fs::path& to_folder) {
    std::error_code problem;
    fs::create_hard_link(unfinished, database_file(to_folder), problem);
    if (problem == std::errc::file_exists) return holds_a_casebook(to_folder);
    if (!problem) return {};
    // A file system without links, as on a stick.
    if (fs::exists(database_file(to_folder))) return holds_a_casebook(to_folder);
    fs::rename(unfinished, database_file(to_folder), problem);
    return problem ? Expected<void>(fail("files.unwritable", fmt::format("{} cannot be written.", to_utf8(to_folder))))
                   : Expected<void>();
}

Expected<BackupReport> copy_book(const Connection& db, const fs::path& from_folder, const fs::path& to_folder,
                                 const Uuid& copy_id) {
    if (auto made = make_folder_durably(to_folder); !made) return pass_on(made);
    const Unfinished unfinished(to_folder / fmt::format("{}{}.sqlite", unfinished_sign, to_text(copy_id)));
    // The database first: the files it names are all stored by then. It gets its name when all of it is there.
    db.copy_to(unfinished.file());
    auto report = fill(unfinished.file(), from_folder, to_folder);
    if (!report) return report;
    if (auto named = give_name(unfinished.file(), to_folder); !named) return pass_on(named);
    remove_unfinished(to_folder);
    if (auto synced = sync_folder(to_folder); !synced) return pass_on(synced);
    return report;
}

}  // namespace

Expected<BackupReport> Casebook::back_up(const fs::path& to_folder) {
    return guarded(folder(), [&]() -> Expected<BackupReport> {
        if (fs::exists(database_file(to_folder))) return holds_a_casebook(to_folder);
        const std::string place = to_utf8(fs::absolute(to_folder));
        // Known before it is made, so that an erasure meanwhile is not forgotten; one that was there before and is away
        // today stays known.
        const bool is_new = !read_only() && !is_known_backup(state_->db, place);
        if (is_new) remember(state_->db, place);
        auto copied = guarded(folder(), [&] { return copy_book(state_->db, folder(), to_folder, new_id()); });
        const bool is_there = fs::exists(database_file(to_folder));
        if (copied && is_new) remember(state_->db, place);  // another that failed may have forgotten it
        // Where another was quicker its backup stands there, and an erasure is to reach it.
        if (!copied && is_there) return holds_a_casebook(to_folder);
        if (!copied && is_new) state_->db.run("DELETE FROM backup WHERE folder = $1", place);
        return copied;
    });
}

}  // namespace tedge::casebook
