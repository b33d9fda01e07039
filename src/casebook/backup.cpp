// Backups: a folder that is a casebook itself.
#include "book_state.hpp"
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

Expected<void> copy_originals(const Connection& copy, const fs::path& from_folder, const fs::path& to_folder) {
    for (const auto& [name, records] : named_files(copy)) {
        const fs::path from = original_in(from_folder, name);
        // What is missing or damaged here cannot be in the backup; check tells of it in both places.
        if (!fs::exists(from) || is_erased_file(copy, name)) continue;
        auto taken = take_over(to_folder, from, name);
        if (!taken && taken.error().code != "casebook.damaged-original") return taken;
    }
    return {};
}

Expected<void> copy_book(const Connection& db, const fs::path& from_folder, const fs::path& to_folder) {
    if (auto made = make_folder_durably(to_folder); !made) return made;
    const fs::path unfinished = to_folder / ".incoming-casebook.sqlite";
    std::error_code problem;
    fs::remove(unfinished, problem);
    // The database first: the files it names are all stored by then. It gets its name when all of it is there.
    db.copy_to(unfinished);
    {
        const Connection copy(unfinished, sqlite::Access::read_write);
        make_independent(copy);
        if (auto copied = copy_originals(copy, from_folder, to_folder); !copied) return copied;
    }
    fs::rename(unfinished, database_file(to_folder), problem);
    if (problem) return fail("files.unwritable", fmt::format("{} cannot be written.", to_utf8(to_folder)));
    return sync_folder(to_folder);
}

}  // namespace

Expected<void> Casebook::back_up(const fs::path& to_folder) {
    return guarded(folder(), [&]() -> Expected<void> {
        if (fs::exists(database_file(to_folder))) {
            return fail("casebook.exists", fmt::format("{} already holds a casebook.", to_utf8(to_folder)),
                        "Choose an empty folder for the backup.");
        }
        const std::string place = to_utf8(fs::absolute(to_folder));
        // Known before it is made, so that an erasure meanwhile is not forgotten; one that was there before and is away
        // today stays known.
        const bool is_new = !read_only() && !is_known_backup(state_->db, place);
        if (is_new) state_->db.run("INSERT INTO backup (folder, purge_pending) VALUES ($1, 0)", place);
        auto copied = copy_book(state_->db, folder(), to_folder);
        if (!copied && is_new) state_->db.run("DELETE FROM backup WHERE folder = $1", place);
        return copied;
    });
}

}  // namespace tedge::casebook
