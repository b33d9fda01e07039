// Merging: the union of two sets of changes. Nothing is refused for what it says, and nothing is dropped.
#include <set>

#include "book_state.hpp"
#include "change_store.hpp"
#include "hybrid_clock.hpp"
#include "tedge/base/files.hpp"
#include "tedge/casebook/field_table.hpp"

namespace tedge::casebook {

namespace {

namespace fs = std::filesystem;

std::string name_of(const FoldedRecord& record) {
    for (const char* field : {"title", "name", "term", "passage", "what", "owner", "place", "caption", "stage"}) {
        for (const auto* body : {&record.public_body, &record.personal_body}) {
            const auto found = body->find(field);
            if (found != body->end() && found->is_string()) return " \"" + found->get<std::string>() + "\"";
        }
    }
    return "";
}

// "Finding "flaking" added", "Trial "sky" changed, 2 times"
std::string summary_line(const FoldedRecord& record, std::size_t count, bool is_new) {
    const Kind* kind = find_kind(record.kind);
    std::string label(kind != nullptr ? kind->label : std::string_view(record.kind));
    if (!label.empty() && label[0] >= 'a' && label[0] <= 'z') label[0] = static_cast<char>(label[0] - 'a' + 'A');
    const std::string what = record.deleted ? "deleted" : is_new ? "added" : "changed";
    const std::string times = !is_new && count > 1 ? fmt::format(", {} times", count) : "";
    const std::string conflict = record.conflicts.empty() ? "" : "; the two sides differ, choose one";
    return fmt::format("{}{} {}{}{}", label, name_of(record), what, times, conflict);
}

class Merger {
public:
    Merger(const sqlite::Connection& db, Instant now) : db_(db), now_(now) {}

    void take(const Change& change) {
        for (const std::string& fault : faults_of(change)) {
            report_.faults.push_back(fmt::format("Change {}: {}.", to_text(change.id), fault));
        }
        if (const auto known = load_change(db_, change.id)) {
            meet(*known, change);
            return;
        }
        if (!before_.contains(change.record)) before_[change.record] = load_record(db_, change.record).has_value();
        insert_change(db_, change);
        ++taken_[change.record];
        ++report_.changes;
        if (!take_note(db_, change.clock, now_)) {
            db_.run("INSERT INTO clock_mark (change) VALUES ($1)", change.id);
            report_.faults.push_back(fmt::format(
                "Change {} carries a time more than ten minutes ahead; it is kept, and our own clock is not moved.",
                to_text(change.id)));
        }
    }

    // Folds what was touched; true when an erasure took something away.
    bool finish() {
        bool erased = false;
        for (const auto& [record, count] : taken_) {
            erased = apply_erasures(db_, record) || erased;
            note_erased_files(db_, record);
            const FoldedRecord folded = refold(db_, record);
            report_.summary.push_back(summary_line(folded, count, !before_[record]));
            report_.conflicts.insert(report_.conflicts.end(), folded.conflicts.begin(), folded.conflicts.end());
            for (const Change& change : changes_of_record(db_, record)) {
                erased = erased || change.operation == Operation::erase;
            }
        }
        return erased;
    }

    [[nodiscard]] MergeReport& report() { return report_; }

private:
    // We have it: only payloads that we lack can be new. What was erased here is taken out again by finish().
    void meet(const Change& ours, const Change& theirs) {
        if (ours.hash != theirs.hash) {
            report_.faults.push_back(
                fmt::format("Change {} differs from the one already here; ours is kept.", to_text(ours.id)));
            return;
        }
        const bool fills =
            (!ours.public_payload && theirs.public_payload) || (!ours.personal_payload && theirs.personal_payload);
        if (!fills || !faults_of(theirs).empty()) return;
        fill_payloads(db_, theirs);
        before_.try_emplace(ours.record, true);
        taken_.try_emplace(ours.record, 0);
    }

    const sqlite::Connection& db_;
    Instant now_;
    MergeReport report_;
    std::map<Uuid, std::size_t> taken_;
    std::map<Uuid, bool> before_;
};

}  // namespace

Expected<MergeReport> Casebook::merge(const std::vector<Change>& changes) {
    if (read_only()) return std::unexpected(read_only_error(folder()));
    return guarded(folder(), [&]() -> Expected<MergeReport> {
        bool erased = false;
        MergeReport report;
        {
            sqlite::ImmediateTransaction transaction(state_->db);
            Merger merger(state_->db, state_->sources.clock->now());
            for (const Change& change : changes) merger.take(change);
            erased = merger.finish();
            report = std::move(merger.report());
            transaction.commit();
        }
        if (erased) {
            if (auto purged = purge(state_->db, folder()); !purged) return pass_on(purged);
        }
        return report;
    });
}

Expected<MergeReport> Casebook::merge_from(Casebook& other) {
    if (read_only()) return std::unexpected(read_only_error(folder()));
    const auto changes = other.all_changes();
    if (!changes) return pass_on(changes);
    // Files first: a record never stands here without its file, unless the other book lacks it too.
    auto copied = guarded(folder(), [&]() -> Expected<void> {
        for (const std::string& name : named_files(other.state_->db)) {
            const fs::path from = other.original_path(name);
            if (!fs::exists(from) || fs::exists(original_path(name)) || is_erased_file(state_->db, name)) continue;
            if (auto taken = take_in(folder(), from); !taken) return pass_on(taken);
        }
        return {};
    });
    if (!copied) return pass_on(copied);
    return merge(*changes);
}

}  // namespace tedge::casebook
