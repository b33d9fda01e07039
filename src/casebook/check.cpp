// Is all of it as it was written? And do the records stand as the changes say?
#include <algorithm>
#include <set>

#include "book_state.hpp"
#include "chain_checker.hpp"
#include "change_store.hpp"
#include "dialect.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/text.hpp"
#include "tedge/casebook/field_table.hpp"
#include "validation.hpp"

namespace tedge::casebook {

namespace {

namespace fs = std::filesystem;
using sqlite::Connection;

class Checker {
public:
    Checker(const Connection& db, const fs::path& folder, bool may_write, const Progress& progress)
        : db_(db), folder_(folder), may_write_(may_write), progress_(progress) {}

    CheckReport run() {
        step(0.0, "reading the database file", [&] { check_file(); });
        check_book();
        step(0.6, "reading originals", [&] { check_originals(); });
        step(0.95, "looking for strays", [&] { note_unnamed_files(); });
        step(1.0, "collecting marks", [&] { note_marks(); });
        advise();
        return std::move(report_);
    }

private:
    // A database so damaged that a part of the check breaks off is a finding, not a failure to find.
    template <class Part>
    void step(double fraction, std::string_view what, Part part) {
        progress_.at(fraction, what);
        if (progress_.stopped()) return;
        try {
            part();
        } catch (const sqlite::SqlError& damage) {
            if (damage.is_busy()) throw;
            problem(fmt::format("The database cannot be read while {}: {}.", what, damage.what()));
            file_is_damaged_ = true;
        }
    }

    // Of a damaged file: what to do. Changes cannot be made anew, all else can.
    void advise() {
        if (!file_is_damaged_ || progress_.stopped()) return;
        report_.notes.emplace_back(
            changes_can_be_read()
                ? "All changes can be read: rebuild the casebook, and all that is made from them is made anew."
                : "Not all changes can be read: put a backup in the place of this casebook, or make a new one and "
                  "merge this one into it; what can still be read is taken over.");
    }

    // As rebuilding reads them: without the indexes.
    [[nodiscard]] bool changes_can_be_read() const {
        try {
            visit_changes_behind(db_, 0, [](std::int64_t, const Change&) {});
            return true;
        } catch (const sqlite::SqlError& damage) {
            if (damage.is_busy()) throw;
            return false;
        }
    }

    void problem(std::string sentence) { report_.problems.push_back(std::move(sentence)); }

    void check_file() {
        for (const std::string& fault : file_faults(db_)) problem(fmt::format("The database file: {}.", fault));
        for (const std::string& fault : index_faults(db_, may_write_)) problem(fmt::format("The database: {}.", fault));
        file_is_damaged_ = !report_.ok();
    }

    // All of it as it stood at one moment: another program may be writing meanwhile.
    void check_book() {
        const sqlite::ReadTransaction one_moment(db_);
        step(0.1, "verifying changes", [&] { check_changes(); });
        step(0.3, "folding records", [&] { check_projection(); });
        step(0.6, "listing originals", [&] { named_ = named_files(db_); });
    }

    void check_changes() {
        ChainChecker chains(report_);
        std::size_t without_payload = 0;
        for_each_change(db_, [&](const Change& change) {
            chains.take(change);
            if (!change.public_payload || !change.personal_payload) ++without_payload;
        });
        if (without_payload > 0) {
            report_.notes.push_back(fmt::format("{} without a part of what was written: erased, or never given here.",
                                                counted(without_payload, "change stands", "changes stand")));
        }
    }

    void check_projection() {
        const std::set<Uuid> changed = changed_records(db_);
        std::size_t done = 0;
        for (const Uuid& id : changed) {
            progress_.at(0.3 + 0.3 * static_cast<double>(done++) / static_cast<double>(changed.size()),
                         "folding records");
            if (progress_.stopped()) return;
            const std::vector<Change> changes = changes_of_record(db_, id);
            if (changes.empty()) {
                problem("The index of changes by record names a record without changes.");
            } else {
                check_record(id, fold(changes));
            }
        }
        const auto count = static_cast<std::size_t>(db_.integer("SELECT count(*) FROM record"));
        const auto indexed = static_cast<std::size_t>(db_.integer("SELECT count(*) FROM indexed_record"));
        if (count != changed.size() || indexed != changed.size()) {
            problem("There are records that no change has made: rebuild the records.");
        }
    }

    void check_record(const Uuid& id, const FoldedRecord& folded) {
        const std::string name = fmt::format("The {} {}", folded.kind, to_text(id));
        if (folded.kind == "case" && !folded.deleted) ++report_.cases;
        const auto stored = load_record(db_, id);
        if (!stored || dump_record(*stored) != dump_record(folded)) {
            problem(name + " does not stand as its changes say: rebuild the records.");
            return;
        }
        if (indexed_text(db_, id) != searched_words(folded)) {
            problem(name + " is not found by its words: rebuild the records.");
        }
        const IndexedPlace place = indexed_place(folded);
        if (!is_indexed_at(db_, id, place.face_frame, place.box)) {
            problem(name + " is not found by its place: rebuild the records.");
        }
        check_values_of(name, folded);
        check_references(name, folded);
    }

    // What an older program or another book let in, and this one would refuse.
    void check_values_of(const std::string& name, const FoldedRecord& folded) {
        const Kind* kind = find_kind(folded.kind);
        if (kind == nullptr || folded.deleted || folded.schema > kind->schema) return;
        const Body body = to_record(folded).body;
        for (const Field& field : kind->fields) {
            const std::string fault =
                body.has(field.name) ? misfit_at(*kind, field.name, body.as_json().at(field.name)) : "";
            if (!fault.empty()) problem(fmt::format("{}: \"{}\" {}; correct it.", name, field.label, fault));
        }
        const auto placed = check_place(*kind, body, [this](const Uuid& id) { return frame_body(db_, id); });
        if (!placed) problem(fmt::format("{}: {}", name, placed.error().message));
    }

    // Whatever a field names is to be here, though it may be deleted.
    void check_references(const std::string& name, const FoldedRecord& folded) {
        const Kind* kind = find_kind(folded.kind);
        if (kind == nullptr || folded.deleted) return;
        const Body body = to_record(folded).body;
        for (const Field& field : kind->fields) {
            const auto named = field.type == FieldType::record ? body.record(field.name) : std::nullopt;
            if (!named) continue;
            const std::string found = kind_of_record(db_, *named);
            if (!found.empty() && may_name(field, found)) continue;
            problem(fmt::format("{} names as \"{}\" a record that is not here.", name, field.label));
        }
    }

    void check_originals() {
        std::size_t done = 0;
        for (const auto& [name, records] : named_) {
            progress_.at(0.6 + 0.35 * static_cast<double>(done++) / static_cast<double>(named_.size()),
                         "reading originals");
            if (progress_.stopped()) return;
            check_original(name);
        }
    }

    void check_original(const std::string& name) {
        if (is_erased_file(db_, name)) return;
        ++report_.originals;
        const auto digest = hash_file_hex(original_in(folder_, name), HashAlgorithm::sha256);
        if (!digest) {
            problem(fmt::format("The original {} is missing or cannot be read.", name));
            return;
        }
        if (*digest != name) problem(fmt::format("The original {} was altered.", name));
        mark_damaged(name, *digest != name);
    }

    // Kept and marked: a damaged picture may be the only witness.
    void mark_damaged(const std::string& name, bool damaged) {
        if (!may_write_ || damaged == is_marked_damaged(db_, name)) return;
        db_.run(
            damaged ? "INSERT INTO damaged_file (sha256) VALUES ($1)" : "DELETE FROM damaged_file WHERE sha256 = $1",
            name);
    }

    void note_unnamed_files() {
        const auto named = named_files(db_);
        std::error_code problem_here;  // of a folder that may not be read; its named files were missed already
        auto entry = fs::recursive_directory_iterator(folder_ / "originals",
                                                      fs::directory_options::skip_permission_denied, problem_here);
        for (; !problem_here && entry != fs::end(entry); entry.increment(problem_here)) {
            std::error_code vanished;
            if (!entry->is_regular_file(vanished)) continue;
            const std::string name = to_utf8(entry->path().filename());
            if (!named.contains(name) || is_erased_file(db_, name)) note_unnamed(entry->path(), name);
        }
    }

    void note_unnamed(const fs::path& file, const std::string& name) {
        if (is_erased_file(db_, name)) {
            problem(fmt::format("The erased file {} is still there.", name));
            return;
        }
        if (name.starts_with(".incoming-")) {
            report_.notes.push_back(
                fmt::format("{} is what an interrupted copy left behind; it may be removed.", name));
            return;
        }
        report_.notes.push_back(fmt::format("The original {} is named by no record.", name));
        const auto digest = hash_file_hex(file, HashAlgorithm::sha256);
        if (digest && *digest != name) problem(fmt::format("The original {} was altered.", name));
    }

    void note_marks() {
        const auto note = [&](std::string_view sql, std::string_view what) {
            auto row = db_.prepare(sql);
            while (row.step()) report_.notes.push_back(fmt::format("Change {} {}.", to_text(row.id(0)), what));
        };
        note("SELECT change FROM clock_mark ORDER BY change", "came with a time more than ten minutes ahead");
        note("SELECT change FROM held_change ORDER BY change",
             "was not for its sender's role to make; it is kept and not folded");
        for (const Uuid& record : erased_records(db_)) {
            for (auto& [change, sentence] : written_unaware(db_, record)) report_.notes.push_back(sentence);
        }
        for (std::string& sentence : pending_purges(db_)) report_.notes.push_back(std::move(sentence));
    }

    const Connection& db_;
    const fs::path& folder_;
    bool may_write_;
    const Progress& progress_;
    CheckReport report_;
    bool file_is_damaged_ = false;
    std::map<std::string, std::vector<Uuid>> named_;  // originals, and who names them
};

}  // namespace

Expected<CheckReport> Casebook::check(const Progress& progress) {
    return guarded(folder(), [&]() -> Expected<CheckReport> {
        CheckReport report = Checker(state_->db, folder(), !read_only(), progress).run();
        if (progress.stopped()) return cancelled();
        return report;
    });
}

}  // namespace tedge::casebook
