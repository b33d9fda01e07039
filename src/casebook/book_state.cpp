#include "book_state.hpp"

#include <sqlite3.h>

#include "change_store.hpp"
#include "hybrid_clock.hpp"
#include "tedge/base/files.hpp"

namespace tedge::casebook {

std::filesystem::path database_file(const std::filesystem::path& folder) {
    return folder / "casebook.sqlite";
}

Error read_only_error(const std::filesystem::path& folder, Opening opening) {
    if (opening == Opening::newer_read_only) {
        return {"casebook.read-only",
                fmt::format("The casebook {} was written by a newer program and is open for reading only.",
                            to_utf8(folder)),
                "Bring this program up to date to write in it.",
                {{"folder", to_utf8(folder)}}};
    }
    return {"casebook.read-only",
            fmt::format("The casebook {} is open for reading only.", to_utf8(folder)),
            "Copy it to a folder where you may write, or ask for the right to write in this one.",
            {{"folder", to_utf8(folder)}}};
}

namespace {

// A limit on the size of files, or a disk that fails, is told by sqlite3 as an error of writing.
Error explain_disk(int code, const std::string& name, const std::map<std::string, std::string>& values) {
    const bool writing = code == SQLITE_IOERR_WRITE || code == SQLITE_IOERR_FSYNC || code == SQLITE_IOERR_TRUNCATE ||
                         code == SQLITE_IOERR_SHMSIZE || code == SQLITE_IOERR_DIR_FSYNC;
    if (writing) {
        return {"casebook.disk-full", fmt::format("The disk of the casebook {} does not take what is written.", name),
                "Free some space or check the disk and try again; nothing that was saved is lost.", values};
    }
    return {"casebook.disk-error", fmt::format("The disk of the casebook {} cannot be read.", name),
            "Check the disk and its connection, and make a backup as soon as it can be read.", values};
}

}  // namespace

Error explain(const sqlite::SqlError& problem, const std::filesystem::path& folder) {
    const std::string name = to_utf8(folder);
    const std::map<std::string, std::string> values{{"folder", name}, {"detail", problem.what()}};
    switch (problem.code() & 0xFF) {
        case SQLITE_BUSY:
        case SQLITE_LOCKED:
            return {"casebook.busy", fmt::format("Another program is writing to the casebook {}.", name),
                    "Wait until it has finished and try again; nothing was changed.", values};
        case SQLITE_FULL:
            return {"casebook.disk-full", fmt::format("There is no room left on the disk of the casebook {}.", name),
                    "Free some space and try again; nothing that was saved is lost.", values};
        case SQLITE_IOERR:
            return explain_disk(problem.code(), name, values);
        case SQLITE_READONLY:
        case SQLITE_PERM:
            return read_only_error(folder);
        case SQLITE_CANTOPEN:
            return {"casebook.missing", fmt::format("The casebook {} cannot be opened.", name),
                    "Check the path and that you may read it.", values};
        default:
            return {"casebook.damaged", fmt::format("The casebook {} cannot be read: {}.", name, problem.what()),
                    "Rebuild it: all that is made from its changes is then made anew. Where that is refused, put a "
                    "backup in its "
                    "place.",
                    values};
    }
}

Error explain(const std::filesystem::filesystem_error& problem, const std::filesystem::path& folder) {
    const std::string name = to_utf8(folder);
    const std::map<std::string, std::string> values{{"folder", name}, {"detail", problem.what()}};
    if (problem.code() == std::errc::no_space_on_device) {
        return {"casebook.disk-full", fmt::format("There is no room left on the disk for the casebook {}.", name),
                "Free some space and try again; nothing that was saved is lost.", values};
    }
    return {"casebook.missing", fmt::format("The casebook {} cannot be opened: {}.", name, problem.code().message()),
            "Check the path and that you may read it.", values};
}

Error reason_not_text() {
    return {"casebook.bad-field",
            "The reason holds bytes that are not UTF-8 text.",
            "Correct it and try again; nothing was changed.",
            {{"field", "reason"}}};
}

Uuid stored_replica(const sqlite::Connection& db) {
    auto row = db.prepare("SELECT replica FROM book");
    return row.step() ? row.id(0) : Uuid{};
}

Change append_change(const sqlite::Connection& db, const Sources& sources, const NewChange& made) {
    const Uuid replica = stored_replica(db);
    const ChainHead head = head_of_chain(db, replica, made.case_id);
    Change change;
    change.id = sources.ids->next();
    change.replica = replica;
    change.case_id = made.case_id;
    change.number = head.number + 1;
    change.author = made.author;
    change.time = sources.clock->now();
    change.clock = next_time(db, change.time);
    change.record = made.record;
    change.kind = made.kind;
    change.schema = made.schema;
    change.operation = made.operation;
    change.seen = made.seen;
    change.public_payload = Payload{made.public_text, {}};
    change.personal_payload = Payload{made.personal_text, {}};
    fill_random(change.public_payload->salt.data(), change.public_payload->salt.size());
    fill_random(change.personal_payload->salt.data(), change.personal_payload->salt.size());
    change.public_digest = payload_digest(*change.public_payload);
    change.personal_digest = payload_digest(*change.personal_payload);
    change.reason = made.reason;
    change.previous = head.hash;
    change.hash = change_hash(change);
    insert_change(db, change);
    return change;
}

}  // namespace tedge::casebook
