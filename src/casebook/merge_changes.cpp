#include "merge_changes.hpp"

#include <fmt/format.h>

#include <map>
#include <set>

#include "book_state.hpp"
#include "change_store.hpp"
#include "hybrid_clock.hpp"
#include "sender_roles.hpp"
#include "tedge/casebook/field_table.hpp"
#include "validation.hpp"

namespace tedge::casebook {

namespace {

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

std::vector<std::string> field_faults(const Change& change) {
    std::vector<std::string> faults;
    const Kind* kind = find_kind(change.kind);
    if (kind == nullptr || change.schema > kind->schema) return faults;
    for (const auto& [path, value] : values_written(change)) {
        const std::string fault = misfit_at(*kind, path, value);
        if (!fault.empty()) faults.push_back(fmt::format("\"{}\" {}", path, fault));
    }
    return faults;
}

std::string name_of_change(const Change& change) {
    return fmt::format("Change {} ({} of a {})", to_text(change.id), to_text(change.operation), change.kind);
}

class Merger {
public:
    Merger(const sqlite::Connection& db, const Uuid& replica, Instant now, Reader sender)
        : db_(db), replica_(replica), now_(now), sender_(sender) {}

    void take_all(const std::vector<Change>& changes) {
        for (const Change& change : changes) {
            if (change.operation == Operation::erase) erased_records_.insert(change.record);
            offered_.emplace(change.id, &change);
            if (known_lost_.contains(change.record)) continue;
            known_lost_.emplace(change.record, written_unaware(db_, change.record));
        }
        for (const Change& change : changes) take(change);
    }

    // Folds what was touched; true when an erasure came in or took something away.
    bool finish() {
        give_back_spared();
        bool erased = false;
        for (const auto& [record, count] : taken_) {
            erased = apply_erasures(db_, record) || erased;
            const FoldedRecord folded = refold(db_, record);
            if (count > 0) report_.summary.push_back(summary_line(folded, count, !before_[record]));
            report_.conflicts.insert(report_.conflicts.end(), folded.conflicts.begin(), folded.conflicts.end());
        }
        // When all records stand as they are to stand, it is known which files others need.
        for (const auto& [record, count] : taken_) note_erased_files(db_, record);
        for (const auto& [record, count] : taken_) tell_lost(record);
        return erased || erasure_came_in_;
    }

    [[nodiscard]] bool met_ourselves() const { return met_ourselves_; }
    [[nodiscard]] MergeReport& report() { return report_; }

private:
    // Erasing wins over writing, and whoever wrote is to hear of it, on whichever side that was.
    void tell_lost(const Uuid& record) {
        const auto known = known_lost_.find(record);
        for (auto& [change, sentence] : written_unaware(db_, record)) {
            if (known != known_lost_.end() && known->second.contains(change)) continue;
            report_.summary.push_back(std::move(sentence));
        }
    }

    void take(const Change& offered) {
        if (change_hash(offered) != offered.hash) {
            report_.faults.push_back(name_of_change(offered) + " is damaged and was not taken in.");
            return;
        }
        Change change = offered;
        drop_misfits(change);
        change.admitted = change.admitted && is_admitted(change);
        if (const auto known = load_change(db_, change.id)) {
            meet(*known, change);
        } else {
            insert(change);
        }
    }

    [[nodiscard]] bool is_admitted(const Change& change) const {
        // Fields are judged by the kind that the change names: so it must be the record's own.
        const auto record = sender_ != Reader::own ? load_record(db_, change.record) : std::nullopt;
        if (record && (record->kind != change.kind || record->case_id != change.case_id)) return false;
        return may_make(change, sender_, [this](const Uuid& id) {
            const auto offered = offered_.find(id);
            return offered != offered_.end() ? std::optional(*offered->second) : load_change(db_, id);
        });
    }

    // A payload that does not fit its digest is not the one that was written.
    void drop_misfits(Change& change) {
        if (!fits_digest(change.public_payload, change.public_digest)) change.public_payload.reset();
        if (!fits_digest(change.personal_payload, change.personal_digest)) change.personal_payload.reset();
        if (faults_of(change).empty()) return;
        report_.faults.push_back(name_of_change(change) + " holds something that cannot be read.");
    }

    void insert(Change& change) {
        before_.try_emplace(change.record, !kind_of_record(db_, change.record).empty());
        if (const auto altered = row_with_altered_id(db_, change)) {
            heal(*altered, change);
            return;
        }
        set_aside_personal(change);
        insert_change(db_, change);
        ++taken_[change.record];
        ++report_.changes;
        note_erasure(change);
        met_ourselves_ = met_ourselves_ || change.replica == replica_;
        report_faults(change);
        if (!take_note(db_, change.clock, now_)) mark_ahead(change);
    }

    void note_erasure(const Change& change) {
        erasure_came_in_ = erasure_came_in_ || (change.operation == Operation::erase && change.admitted);
    }

    void mark_ahead(const Change& change) {
        db_.run("INSERT INTO clock_mark (change) VALUES ($1)", change.id);
        report_.faults.push_back(name_of_change(change) +
                                 " carries a time more than ten minutes ahead; it is kept, and our own clock is not "
                                 "moved.");
    }

    void report_faults(const Change& change) {
        if (!change.admitted) {
            report_.faults.push_back(name_of_change(change) +
                                     " is not for its sender's role to make; it is kept, and the record is as it was.");
        }
        for (const std::string& fault : field_faults(change)) {
            report_.faults.push_back(fmt::format("{}: {}; it is kept as it came.", name_of_change(change), fault));
        }
    }

    // We have it: new can be payloads that we lack, or the sound form of a row that was altered here.
    void meet(const Change& ours, Change& theirs) {
        if (!faults_of(ours).empty()) {
            heal(ours, theirs);
        } else if (ours.hash != theirs.hash) {
            report_.faults.push_back(name_of_change(ours) + " differs from the one already here; ours is kept.");
        } else {
            admit_as_theirs(ours, theirs);
            fill(ours, theirs);
        }
    }

    // Puts the sound form in the place of a row that was altered here. Payloads of ours that are as they were written
    // stay: whoever sends the sound form may have been given less.
    void heal(const Change& ours, Change& theirs) {
        keep_whole_payload(ours.public_payload, theirs.public_payload, theirs.public_digest);
        keep_whole_payload(ours.personal_payload, theirs.personal_payload, theirs.personal_digest);
        if ((ours.public_payload && !theirs.public_payload) || (ours.personal_payload && !theirs.personal_payload)) {
            report_.faults.push_back(name_of_change(theirs) +
                                     " is damaged here; what came says less of it, and ours is kept.");
            return;
        }
        before_.try_emplace(theirs.record, true);
        // The same change as before stays admitted, whoever brings it.
        theirs.admitted = theirs.admitted || (ours.admitted && stored_hash(db_, ours.id) == theirs.hash);
        set_aside_personal(theirs);
        remove_damaged(db_, ours.id);
        insert_change(db_, theirs);
        taken_.try_emplace(theirs.record, 0);
        note_erasure(theirs);
        if (!take_note(db_, theirs.clock, now_)) mark_ahead(theirs);
        report_.summary.push_back(name_of_change(theirs) + " was damaged here and is whole again.");
    }

    static void keep_whole_payload(const std::optional<Payload>& ours, std::optional<Payload>& theirs,
                                   const Sha256Digest& digest) {
        if (!theirs && ours && fits_digest(ours, digest)) theirs = ours;
    }

    // What one book of the house has admitted, the house has.
    void admit_as_theirs(const Change& ours, const Change& theirs) {
        if (ours.admitted || !theirs.admitted || sender_ != Reader::own) return;
        release_change(db_, ours.id);
        note_erasure(theirs);
        taken_.try_emplace(ours.record, 0);
    }

    void fill(const Change& ours, Change& theirs) {
        const bool fills =
            (!ours.public_payload && theirs.public_payload) || (!ours.personal_payload && theirs.personal_payload);
        if (!fills) return;
        // An empty change says nothing that a role could not say; with its payload it may.
        if (!theirs.admitted) {
            hold_change(db_, ours.id);
            report_faults(theirs);
        }
        set_aside_personal(theirs);
        fill_payloads(db_, theirs);
        before_.try_emplace(ours.record, true);
        taken_.try_emplace(ours.record, 0);
    }

    // Where the record knows an erasure, a personal payload waits outside the database until it is clear that it was
    // written with that erasure in sight: what was erased must not touch the disk again.
    void set_aside_personal(Change& change) {
        if (!change.personal_payload || !says_something(*change.personal_payload)) return;
        if (!erased_records_.contains(change.record) && !has_erasure(db_, change.record)) return;
        set_aside_[change.record].push_back(change);
        change.personal_payload.reset();
    }

    void give_back_spared() {
        for (const auto& [record, waiting] : set_aside_) {
            const std::set<Uuid> erased = changes_erased(changes_of_record(db_, record));
            for (const Change& change : waiting) {
                if (!erased.contains(change.id)) fill_payloads(db_, change);
            }
        }
    }

    const sqlite::Connection& db_;
    Uuid replica_;
    Instant now_;
    Reader sender_;
    MergeReport report_;
    std::map<Uuid, std::size_t> taken_;
    std::map<Uuid, bool> before_;
    std::set<Uuid> erased_records_;
    std::map<Uuid, const Change*> offered_;
    std::map<Uuid, std::vector<Change>> set_aside_;
    std::map<Uuid, std::map<Uuid, std::string>> known_lost_;  // by record, what was told before
    bool erasure_came_in_ = false;
    bool met_ourselves_ = false;
};

}  // namespace

MergedChanges merge_changes(const sqlite::Connection& db, const Uuid& replica, Instant now, Reader sender,
                            const std::vector<Change>& changes) {
    Merger merger(db, replica, now, sender);
    merger.take_all(changes);
    MergedChanges merged;
    merged.erased = merger.finish();
    merged.met_ourselves = merger.met_ourselves();
    merged.report = std::move(merger.report());
    return merged;
}

}  // namespace tedge::casebook
