// What an open casebook holds, and the edge at which exceptions of the database become errors a person can read.
#pragma once

#include <fmt/format.h>

#include <filesystem>
#include <map>
#include <set>
#include <type_traits>

#include "projection.hpp"
#include "sqlite/connection.hpp"
#include "tedge/casebook/casebook.hpp"

namespace tedge::casebook {

// A folder that is removed again: where a book that cannot be written to is read from when its log is not in the file.
class ReadingCopy {
public:
    ReadingCopy() = default;
    explicit ReadingCopy(std::filesystem::path folder) : folder_(std::move(folder)) {}
    ReadingCopy(ReadingCopy&& other) noexcept : folder_(std::exchange(other.folder_, {})) {}
    ReadingCopy& operator=(ReadingCopy&& other) noexcept {
        std::swap(folder_, other.folder_);
        return *this;
    }
    ~ReadingCopy() {
        std::error_code ignored;
        if (!folder_.empty()) std::filesystem::remove_all(folder_, ignored);
    }

private:
    std::filesystem::path folder_;
};

struct Casebook::State {
    std::filesystem::path folder;
    Sources sources;
    Opening opening = Opening::current;
    Uuid replica;
    ReadingCopy copy;  // outlives the connection that reads from it
    sqlite::Connection db;
    bool read_only = false;
};

[[nodiscard]] std::filesystem::path database_file(const std::filesystem::path& folder);

// What went wrong, for a person. `folder` is named in the sentence.
[[nodiscard]] Error explain(const sqlite::SqlError& problem, const std::filesystem::path& folder);
[[nodiscard]] Error explain(const std::filesystem::filesystem_error& problem, const std::filesystem::path& folder);
[[nodiscard]] Error read_only_error(const std::filesystem::path& folder, Opening opening = Opening::folder_read_only);

// Runs `work`, which returns Expected<T>, and turns an exception of the database or of the file system into
// its error.
template <class Work>
auto guarded(const std::filesystem::path& folder, Work work) -> std::invoke_result_t<Work> {
    try {
        return work();
    } catch (const sqlite::SqlError& problem) {
        return std::unexpected(explain(problem, folder));
    } catch (const std::filesystem::filesystem_error& problem) {
        return std::unexpected(explain(problem, folder));
    }
}

[[nodiscard]] Error reason_not_text();  // casebook.bad-field

// One change on its way in: numbered, chained, timed and stored. Must run inside a transaction.
struct NewChange {
    Uuid author;
    Uuid case_id;
    Uuid record;
    std::string kind;
    int schema = 1;
    Operation operation = Operation::create;
    std::vector<Uuid> seen;
    std::string public_text = "{}";
    std::string personal_text = "{}";
    std::string reason;
};
Change append_change(const sqlite::Connection& db, const Sources& sources, const NewChange& made);
// The chain this folder writes, as the book says now: another program may have had to begin a new one meanwhile.
[[nodiscard]] Uuid stored_replica(const sqlite::Connection& db);

// --- erasure.cpp: what erase changes ask of the rest of the book ---------------------------------------------------
// Takes personal payloads out of the record's changes that have not seen one of its erasures. True when any was taken.
bool apply_erasures(const sqlite::Connection& db, const Uuid& record);
// Digests named by the erase changes of the record, put on the list of files never to be taken in again.
void note_erased_files(const sqlite::Connection& db, const Uuid& record);
[[nodiscard]] inline bool is_erasure(const Change& change) {
    return change.operation == Operation::erase && change.admitted;
}
// Files that the change put into its record, and those that the erasures among the changes name.
[[nodiscard]] std::set<std::string> files_put_in(const Change& change);
[[nodiscard]] std::set<std::string> files_of_erasures(const std::vector<Change>& changes);
// Inside the transaction that erases: from now on until it is done, a purge is due here and in every known backup.
void ask_for_purge(const sqlite::Connection& db);
[[nodiscard]] std::vector<std::string> pending_purges(const sqlite::Connection& db);  // a sentence each
[[nodiscard]] bool is_erased_file(const sqlite::Connection& db, std::string_view sha256);

// --- erased_work.cpp: writing in what was erased ------------------------------------------------------------------
// Whether there is anything to erase in a personal payload: most changes have an empty one.
[[nodiscard]] bool says_something(const Payload& payload);
// The changes of the record that were made without knowing of its erasure and lost something by it, a sentence each.
[[nodiscard]] std::map<Uuid, std::string> written_unaware(const sqlite::Connection& db, const Uuid& record);
// What an erasure took does not come back by an edit: what names the record (a person's name, a paper's title) never,
// other personal fields with a reason alone. Errors: casebook.erased-record (values.field).
[[nodiscard]] Expected<void> check_writing_erased(const sqlite::Connection& db, const Kind& kind, const Edit& edit,
                                                  const FoldedRecord& before);

// --- originals.cpp ---------------------------------------------------------------------------------------------------
// 64 hexadecimal digits. A book from elsewhere may name anything: nothing else is ever made a path.
[[nodiscard]] bool is_digest_name(std::string_view name);
[[nodiscard]] std::filesystem::path original_in(const std::filesystem::path& folder, std::string_view sha256);
// Copies an original of another book. Errors: casebook.damaged-original (its bytes do not fit its name).
[[nodiscard]] Expected<void> take_over(const std::filesystem::path& folder, const std::filesystem::path& file,
                                       const std::string& sha256);
// Digests that records name, living or not, and who names them.
[[nodiscard]] std::map<std::string, std::vector<Uuid>> named_files(const sqlite::Connection& db);
[[nodiscard]] bool is_marked_damaged(const sqlite::Connection& db, std::string_view sha256);
[[nodiscard]] std::optional<std::string> file_of(const FoldedRecord& record);

}  // namespace tedge::casebook
