// What an open casebook holds, and the edge at which exceptions of the database become errors a person can read.
#pragma once

#include <fmt/format.h>

#include <filesystem>
#include <set>
#include <type_traits>

#include "projection.hpp"
#include "sqlite/connection.hpp"
#include "tedge/casebook/casebook.hpp"

namespace tedge::casebook {

struct Casebook::State {
    std::filesystem::path folder;
    Sources sources;
    Opening opening = Opening::current;
    Uuid replica;
    sqlite::Connection db;

    [[nodiscard]] bool read_only() const {
        return opening == Opening::newer_read_only || opening == Opening::folder_read_only || asked_read_only;
    }
    bool asked_read_only = false;
};

[[nodiscard]] std::filesystem::path database_file(const std::filesystem::path& folder);

// What went wrong, for a person. `folder` is named in the sentence.
[[nodiscard]] Error explain(const sqlite::SqlError& problem, const std::filesystem::path& folder);
[[nodiscard]] Error read_only_error(const std::filesystem::path& folder);

// Runs `work`, which returns Expected<T>, and turns a database exception into its error.
template <class Work>
auto guarded(const std::filesystem::path& folder, Work work) -> std::invoke_result_t<Work> {
    try {
        return work();
    } catch (const sqlite::SqlError& problem) {
        return std::unexpected(explain(problem, folder));
    }
}

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
Change append_change(const sqlite::Connection& db, const Uuid& replica, const Sources& sources, const NewChange& made);

// --- erasure.cpp: what erase changes ask of the rest of the book ---------------------------------------------------
// Takes personal payloads out of the record's changes that have not seen one of its erasures. True when any was taken.
bool apply_erasures(const sqlite::Connection& db, const Uuid& record);
// Digests named by the erase changes of the record, put on the list of files never to be taken in again.
void note_erased_files(const sqlite::Connection& db, const Uuid& record);
// Removes erased files, clears derived/, makes full-text anew, cuts the log, and does the same in every known backup.
[[nodiscard]] Expected<void> purge(const sqlite::Connection& db, const std::filesystem::path& folder);
[[nodiscard]] bool is_erased_file(const sqlite::Connection& db, std::string_view sha256);

// --- originals.cpp ---------------------------------------------------------------------------------------------------
[[nodiscard]] std::filesystem::path original_in(const std::filesystem::path& folder, std::string_view sha256);
[[nodiscard]] Expected<StoredFile> take_in(const std::filesystem::path& folder, const std::filesystem::path& file);
// Digests that records name, living or not.
[[nodiscard]] std::set<std::string> named_files(const sqlite::Connection& db);
[[nodiscard]] std::optional<std::string> file_of(const FoldedRecord& record);

}  // namespace tedge::casebook
