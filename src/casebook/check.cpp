// Is all of it as it was written? And can the records be made again from the changes?
#include "book_state.hpp"
#include "change_store.hpp"
#include "dialect.hpp"
#include "tedge/base/files.hpp"

namespace tedge::casebook {

namespace {

namespace fs = std::filesystem;
using sqlite::Connection;

// Walks the chains in order of (replica, case, number).
class ChainChecker {
public:
    explicit ChainChecker(CheckReport& report) : report_(report) {}

    void take(const Change& change) {
        ++report_.changes;
        for (const std::string& fault : faults_of(change)) problem(change, fault);
        const bool same_chain = change.replica == last_.replica && change.case_id == last_.case_id;
        if (!same_chain) {
            expect_first(change);
        } else if (change.number == last_.number) {
            problem(change, fmt::format("has the number {} that another change of its chain has too: the chain forks "
                                        "here, and both sides are kept",
                                        change.number));
        } else if (change.number != last_.number + 1) {
            problem(change, fmt::format("has the number {} where {} was due: changes are missing", change.number,
                                        last_.number + 1));
        } else if (!follows(change)) {
            problem(change, "does not follow the change before it in its chain");
        }
        if (!same_chain || change.number != last_.number) hashes_of_number_before_ = std::move(hashes_of_number_);
        if (!same_chain) hashes_of_number_before_.clear();
        if (!same_chain || change.number != last_.number) hashes_of_number_.clear();
        hashes_of_number_.push_back(change.hash);
        last_ = {change.replica, change.case_id, change.number, change.hash};
    }

private:
    void expect_first(const Change& change) {
        if (change.number != 1) {
            problem(change, fmt::format("begins its chain with number {}: changes are missing", change.number));
        } else if (change.previous != Sha256Digest{}) {
            problem(change, "is the first of its chain but names one before it");
        }
    }

    [[nodiscard]] bool follows(const Change& change) const {
        return std::ranges::find(hashes_of_number_, change.previous) != hashes_of_number_.end();
    }

    void problem(const Change& change, const std::string& what) {
        report_.problems.push_back(fmt::format("Change {} ({} of a {}): {}.", to_text(change.id),
                                               to_text(change.operation), change.kind, what));
    }

    CheckReport& report_;
    ChainHead last_;
    std::vector<Sha256Digest> hashes_of_number_;
    std::vector<Sha256Digest> hashes_of_number_before_;
};

void check_projection(const Connection& db, CheckReport& report, const Progress& progress) {
    std::set<Uuid> changed;
    for_each_change(db, [&](const Change& change) { changed.insert(change.record); });
    std::size_t done = 0;
    for (const Uuid& id : changed) {
        progress.at(0.3 + 0.3 * static_cast<double>(done++) / static_cast<double>(changed.size()), "folding records");
        if (progress.stopped()) return;
        const FoldedRecord folded = fold(changes_of_record(db, id));
        const auto stored = load_record(db, id);
        if (folded.kind == "case" && !folded.deleted) ++report.cases;
        if (!stored || dump_record(*stored) != dump_record(folded)) {
            report.problems.push_back(fmt::format("The {} {} does not stand as its changes say: rebuild the records.",
                                                  folded.kind, to_text(id)));
        } else if (indexed_text(db, id) != searched_words(folded)) {
            report.problems.push_back(
                fmt::format("The {} {} is not found by its words: rebuild the records.", folded.kind, to_text(id)));
        }
    }
    if (const auto count = db.integer("SELECT count(*) FROM record");
        static_cast<std::size_t>(count) != changed.size()) {
        report.problems.emplace_back("There are records that no change has made: rebuild the records.");
    }
}

void check_originals(const Connection& db, const fs::path& folder, CheckReport& report, const Progress& progress) {
    const std::set<std::string> named = named_files(db);
    std::size_t done = 0;
    for (const std::string& name : named) {
        progress.at(0.6 + 0.4 * static_cast<double>(done++) / static_cast<double>(named.size()), "reading originals");
        if (progress.stopped()) return;
        if (is_erased_file(db, name)) {
            if (fs::exists(original_in(folder, name))) {
                report.problems.push_back(fmt::format("The erased file {} is still there.", name));
            }
            continue;
        }
        ++report.originals;
        const auto digest = hash_file_hex(original_in(folder, name), HashAlgorithm::sha256);
        if (!digest) {
            report.problems.push_back(fmt::format("The original {} is missing.", name));
        } else if (*digest != name) {
            report.problems.push_back(fmt::format("The original {} was altered.", name));
        }
    }
}

void note_unnamed_files(const Connection& db, const fs::path& folder, CheckReport& report) {
    const std::set<std::string> named = named_files(db);
    std::error_code none;
    for (const auto& entry : fs::recursive_directory_iterator(folder / "originals", none)) {
        if (!entry.is_regular_file()) continue;
        const std::string name = to_utf8(entry.path().filename());
        if (named.contains(name)) continue;
        report.notes.push_back(name.starts_with(".incoming-")
                                   ? fmt::format("{} is what an interrupted copy left behind; it may be removed.", name)
                                   : fmt::format("The original {} is named by no record.", name));
        const auto digest = hash_file_hex(entry.path(), HashAlgorithm::sha256);
        if (!name.starts_with(".incoming-") && digest && *digest != name) {
            report.problems.push_back(fmt::format("The original {} was altered.", name));
        }
    }
}

}  // namespace

Expected<CheckReport> Casebook::check(const Progress& progress) {
    return guarded(folder(), [&]() -> Expected<CheckReport> {
        CheckReport report;
        const Connection& db = state_->db;
        progress.at(0.0, "reading the database file");
        for (const std::string& fault : file_faults(db)) {
            report.problems.push_back(fmt::format("The database file: {}.", fault));
        }
        progress.at(0.1, "verifying changes");
        ChainChecker chains(report);
        for_each_change(db, [&](const Change& change) { chains.take(change); });
        check_projection(db, report, progress);
        check_originals(db, folder(), report, progress);
        note_unnamed_files(db, folder(), report);
        if (progress.stopped()) return cancelled();
        auto marks = db.prepare("SELECT change FROM clock_mark ORDER BY change");
        while (marks.step()) {
            report.notes.push_back(
                fmt::format("Change {} came with a time more than ten minutes ahead.", to_text(marks.id(0))));
        }
        return report;
    });
}

Expected<bool> Casebook::rebuild() {
    if (read_only()) return std::unexpected(read_only_error(folder()));
    return guarded(folder(), [&]() -> Expected<bool> {
        const Connection& db = state_->db;
        sqlite::ImmediateTransaction transaction(db);
        const std::string before = dump_projection(db);
        std::set<Uuid> changed;
        for_each_change(db, [&](const Change& change) { changed.insert(change.record); });
        db.execute("DELETE FROM conflict; DELETE FROM record;");
        clear_text_index(db);
        for (const Uuid& id : changed) refold(db, id);
        const bool identical = dump_projection(db) == before;
        transaction.commit();
        return identical;
    });
}

}  // namespace tedge::casebook
