// Merging with another book: its files first, then its changes.
#include <fmt/format.h>

#include "book_state.hpp"
#include "merge_changes.hpp"
#include "merge_files.hpp"
#include "recovery.hpp"
#include "tedge/base/files.hpp"

namespace tedge::casebook {

Expected<MergeReport> Casebook::merge(const std::vector<Change>& changes, Reader sender) {
    if (read_only()) return std::unexpected(read_only_error(folder(), opening()));
    return guarded(folder(), [&]() -> Expected<MergeReport> {
        sqlite::ImmediateTransaction transaction(state_->db);
        Uuid replica = stored_replica(state_->db);
        MergedChanges merged = merge_changes(state_->db, replica, state_->sources.clock->now(), sender, changes);
        if (merged.erased) ask_for_purge(state_->db);
        if (merged.met_ourselves) {
            replica = state_->sources.ids->next();
            state_->db.run("UPDATE book SET replica = $1", replica);
        }
        transaction.commit();
        state_->replica = replica;
        purge_if_due();
        return std::move(merged.report);
    });
}

Expected<MergeReport> Casebook::merge_from(Casebook& other) {
    if (read_only()) return std::unexpected(read_only_error(folder(), opening()));
    std::vector<std::string> faults;
    std::vector<Change> changes;
    auto read = guarded(other.folder(), [&]() -> Expected<void> {
        const sqlite::ReadTransaction one_moment(other.state_->db);
        changes = readable_changes(other.state_->db, faults);
        return {};
    });
    if (!read) return pass_on(read);
    if (changes.empty() && !faults.empty()) {
        return fail(
            "casebook.damaged",
            fmt::format("The casebook {} is damaged, and not one change can be read in it.", to_utf8(other.folder())),
            "Put a backup in its place.", {{"folder", to_utf8(other.folder())}});
    }
    auto copied = guarded(folder(), [&] {
        return merge_files({state_->db, folder()}, {other.state_->db, other.folder()}, changes, faults);
    });
    if (!copied) return pass_on(copied);
    auto report = merge(changes);
    if (report) report->faults.insert(report->faults.begin(), faults.begin(), faults.end());
    return report;
}

}  // namespace tedge::casebook
