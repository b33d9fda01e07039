// The casebook: a folder with an append-only log of changes, its projection into records, and the original files.
//
//   casebook.sqlite      change log, records, indexes (WAL, synchronous FULL)
//   originals/ab/abcd…   files named by their SHA-256, never modified
//   derived/             pyramids, registered images, maps: disposable
//
// One object per thread. Several processes may work in one folder: a write is one immediate transaction that waits up
// to five seconds for its turn. Errors of every function: casebook.busy, casebook.disk-full, casebook.read-only,
// casebook.damaged; those named beside a function come on top.
#pragma once

#include <filesystem>
#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <type_traits>
#include <vector>

#include "tedge/base/progress.hpp"
#include "tedge/casebook/change.hpp"
#include "tedge/casebook/field_table.hpp"
#include "tedge/casebook/record.hpp"
#include "tedge/casebook/snapshot.hpp"

namespace tedge::casebook {

// Where time and ids come from. Both must outlive the casebook.
struct Sources {
    Clock* clock = nullptr;
    IdSource* ids = nullptr;
};

enum class Opening {
    created,
    current,           // opened as it was
    migrated,          // written by an older program and brought up to date
    newer_read_only,   // written by a newer program
    folder_read_only,  // the folder cannot be written to
};

// One act on one record. Paths of values are checked against the field table.
struct Edit {
    Operation operation = Operation::create;
    Uuid case_id;      // nil for people
    Uuid record;       // nil with create: a new id is made
    std::string kind;  // needed with create
    FieldValues values;
    std::string reason;
    std::vector<Uuid> names;  // with resolve: the changes it settles
    // What the record's newest changes were when the person began (Record::newest_changes). Left empty: those of now.
    // Given, an edit that another program overtook becomes a conflict that is listed, not a silent overwriting.
    std::vector<Uuid> seen;
};

struct Conflict {
    Uuid case_id;
    Uuid record;
    std::string path;  // "" where one deleted what the other edited
    Uuid earlier;      // the change that does not show
    Uuid later;        // the change that shows
    friend auto operator<=>(const Conflict&, const Conflict&) = default;
};

struct SearchHit {
    Uuid case_id;
    Uuid record;
    std::string kind;
    std::string excerpt;
};

// The newest change of a chain: what an exchange file, a dossier or a backup carries to prove later loss.
struct ChainHead {
    Uuid replica;
    Uuid case_id;
    std::int64_t number = 0;
    Sha256Digest hash{};
};

struct CheckReport {
    std::vector<std::string> problems;  // each one sentence
    std::vector<std::string> notes;     // worth knowing, nothing wrong: an original no record names
    std::size_t cases = 0;
    std::size_t changes = 0;
    std::size_t originals = 0;
    [[nodiscard]] bool ok() const { return problems.empty(); }
};

struct MergeReport {
    std::size_t changes = 0;           // taken in
    std::vector<std::string> summary;  // what a person wants to know, a line each
    std::vector<std::string> faults;   // what is wrong with what came; all but damaged changes is kept all the same
    std::vector<Conflict> conflicts;   // those of the records touched
};

// An original that records name and a copy of the book lacks.
struct LeftOut {
    std::string sha256;
    std::vector<Uuid> records;  // that name it
    std::string sentence;       // why
};

struct BackupReport {
    std::size_t originals = 0;  // that lie whole in the copy
    std::vector<LeftOut> left_out;
    std::vector<std::string> problems;  // of the database itself, which was copied as it is
    [[nodiscard]] bool is_whole() const { return left_out.empty() && problems.empty(); }
};

// What erasing a record did, and what it could not do.
struct Erasure {
    std::vector<std::string> fields;   // personal fields, by name, that the record had ever said something of
    std::size_t files = 0;             // that went with it
    std::vector<std::string> stays;    // fields that say something still: they are about no person
    std::vector<Uuid> others;          // of a case: records in it that say something of persons, removed ones too
    std::vector<std::string> held_up;  // what is still to be done, a sentence each
};

struct StoredFile {
    std::string sha256;
    std::uint64_t size_bytes = 0;
    bool already = false;  // the same bytes were here before
};

class Casebook {
public:
    // Errors: casebook.exists, and those of files.hpp.
    [[nodiscard]] static Expected<Casebook> create(const std::filesystem::path& folder, Sources sources);
    // Errors: casebook.missing, casebook.not-a-casebook.
    [[nodiscard]] static Expected<Casebook> open(const std::filesystem::path& folder, Sources sources,
                                                 bool read_only = false);
    // A book that open() calls casebook.damaged, for reading only and as far as it can be read: for another book to
    // take over what is left of it (merge_from). Errors: as open().
    [[nodiscard]] static Expected<Casebook> open_damaged(const std::filesystem::path& folder, Sources sources);
    ~Casebook();
    Casebook(Casebook&&) noexcept;
    Casebook& operator=(Casebook&&) noexcept;

    [[nodiscard]] Opening opening() const;
    [[nodiscard]] bool read_only() const;
    [[nodiscard]] const std::filesystem::path& folder() const;
    [[nodiscard]] Uuid replica() const;

    // --- writing ---------------------------------------------------------------------------------------------------
    // All edits or none, in one transaction; returns the id of each edit's record. Durable when it returns.
    // Errors: casebook.unknown-kind, casebook.bad-field (values.field, values.reason), casebook.missing-field,
    // casebook.no-such-record (also for a reference to a record that is not here), casebook.newer-record,
    // casebook.deleted-record, casebook.nothing-to-do, casebook.file-erased (a file that may not come back is named),
    // casebook.no-such-file (a file that is named is not stored; store_original() first),
    // casebook.off-the-face (a place beyond the face that the record names), face.size-out-of-range,
    // casebook.erased-record (values.field: what was erased does not come back by an edit; fields that do not name the
    // record may be written anew with a reason).
    [[nodiscard]] Expected<std::vector<Uuid>> commit(const Uuid& author, const std::vector<Edit>& edits);
    // One act: what `steps` (a callable that returns Expected<T>) reads no other program changes before what it writes
    // is there, and an error it returns takes all of that back. So a gate that was found open is still open when the
    // record behind it is written. Acts may nest; erasing, merging and care stand outside of acts.
    template <class Steps>
    [[nodiscard]] auto in_one_act(Steps steps) -> std::invoke_result_t<Steps>;
    // An id for a record that other edits of the same commit name (Edit::record of its create).
    [[nodiscard]] Uuid new_id();
    // The person of that name, made when there is none: the author of changes is an id, never a name. Errors:
    // casebook.missing-field (a name of blanks).
    [[nodiscard]] Expected<Uuid> person_named(std::string_view name);
    // Takes the personal fields of a record out of every change and every copy this book knows, and the record's file
    // where it holds one; all else of it stays, and so do the other records of a case. Errors: casebook.file-shared
    // (another record still needs it).
    // What another program or an absent backup holds up is finished when it is next possible; check tells until then.
    [[nodiscard]] Expected<Erasure> erase(const Uuid& author, const Uuid& record, std::string_view reason);

    // --- reading ---------------------------------------------------------------------------------------------------
    [[nodiscard]] Expected<Record> record(const Uuid& id);  // deleted ones too. Errors: casebook.no-such-record
    [[nodiscard]] Expected<std::vector<Record>> records(const Uuid& case_id, std::string_view kind);
    [[nodiscard]] Expected<std::vector<Record>> cases();
    [[nodiscard]] Expected<std::vector<Record>> people();
    [[nodiscard]] Expected<CaseSnapshot> snapshot(const Uuid& case_id);
    // All cases that are not deleted, in the order of cases(), from one moment and with one query. Each holds records
    // of the kinds wanted only, and of the people those that its records name.
    [[nodiscard]] Expected<std::vector<CaseSnapshot>> snapshots(const KindsWanted& kinds);
    [[nodiscard]] Expected<std::vector<Change>> history(const Uuid& record);
    [[nodiscard]] Expected<std::vector<Conflict>> conflicts();
    // Every word must occur, the last one may be unfinished; best hits first.
    [[nodiscard]] Expected<std::vector<SearchHit>> search(std::string_view words, std::size_t limit = 50);
    // Records whose region's bounding box meets the box on that face_frame (sizes in mm).
    [[nodiscard]] Expected<std::vector<Uuid>> placed_in(const Uuid& face_frame, const BoxMm& box);
    [[nodiscard]] Expected<std::vector<ChainHead>> heads();
    // Changes when another connection wrote: ask now and then, read again when it differs.
    [[nodiscard]] Expected<std::int64_t> data_version();

    // --- files -----------------------------------------------------------------------------------------------------
    // Copies a file in: temporary file, fsync, rename, fsync of the folder and its parent. The caller then commits the
    // record that names it. Errors: casebook.file-erased (its erasure was recorded), and those of files.hpp.
    [[nodiscard]] Expected<StoredFile> store_original(const std::filesystem::path& file);
    [[nodiscard]] std::filesystem::path original_path(std::string_view sha256) const;
    [[nodiscard]] std::filesystem::path derived_folder() const;
    // Originals that the last check found altered. They are kept: a damaged picture may be the only witness.
    [[nodiscard]] Expected<std::vector<std::string>> damaged_originals();

    // --- care ------------------------------------------------------------------------------------------------------
    [[nodiscard]] Expected<CheckReport> check(const Progress& progress = {});
    // Makes records, indexes and views anew from the changes, also where the tables they stood in are damaged; true
    // when that gave the very records that stood there. Errors: casebook.damaged (the changes themselves cannot all be
    // read; nothing was changed).
    [[nodiscard]] Expected<bool> rebuild();
    // Union with another book: the originals its records name, then its changes. A damaged change or original of ours
    // is made whole from theirs; one of theirs is not taken in, and named, as is an original that neither has. Of a
    // damaged book that is taken which can be read.
    [[nodiscard]] Expected<MergeReport> merge_from(Casebook& other);
    // Changes handed over in memory (an exchange file's), without files. With a sender's role, what touches fields that
    // this role may not be given is kept, passed on and reported, but not folded into the records.
    [[nodiscard]] Expected<MergeReport> merge(const std::vector<Change>& changes, Reader sender = Reader::own);
    [[nodiscard]] Expected<std::vector<Change>> all_changes();
    // A copy of database and originals in another folder: a casebook itself. An erasure reaches it as soon as it is
    // found where it was made, and brings it up to date by the way. What is altered or missing here stops nothing else;
    // the report names it. Errors: casebook.exists.
    [[nodiscard]] Expected<BackupReport> back_up(const std::filesystem::path& to_folder);

private:
    struct State;
    explicit Casebook(std::unique_ptr<State> state);
    [[nodiscard]] Expected<void> act(const std::function<Expected<void>()>& steps);
    // Removes erased files, clears derived/, makes full-text anew, gives back freed pages, cuts the log, and does the
    // same in every backup that can be reached. What is held up stays due.
    void purge_if_due();
    [[nodiscard]] bool reach_backup(const std::filesystem::path& backup_folder);
    std::unique_ptr<State> state_;
};

template <class Steps>
auto Casebook::in_one_act(Steps steps) -> std::invoke_result_t<Steps> {
    std::optional<std::invoke_result_t<Steps>> result;
    const auto done = act([&]() -> Expected<void> {
        result.emplace(steps());
        if (!*result) return pass_on(*result);
        return {};
    });
    if (!done) return pass_on(done);
    return *std::move(result);
}

}  // namespace tedge::casebook
