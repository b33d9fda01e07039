// The fold of one record's changes: the same bytes for the same set of changes, whatever order they arrived in.
#pragma once

#include <nlohmann/json.hpp>
#include <set>
#include <vector>

#include "tedge/casebook/casebook.hpp"

namespace tedge::casebook {

struct FoldedRecord {
    Uuid id;
    Uuid case_id;
    std::string kind;
    int schema = 1;
    bool deleted = false;
    nlohmann::json public_body = nlohmann::json::object();
    nlohmann::json personal_body = nlohmann::json::object();
    std::vector<Uuid> newest;  // changes that no other change of the record has seen, sorted
    std::vector<Conflict> conflicts;
    Instant first_written;
    Instant last_written;
};

// `changes` are all of one record, at least one. Order: what a change has seen comes before it; (clock, id) breaks
// ties.
[[nodiscard]] FoldedRecord fold(const std::vector<Change>& changes);

// One more change that has seen all the newest ones: the quick way for ordinary editing, equal to folding anew.
void apply_next(FoldedRecord& record, const Change& change);

// What a change writes: path and value of what it sets, then the paths it writes at all, unset ones among them.
[[nodiscard]] std::vector<std::pair<std::string, nlohmann::json>> values_written(const Change& change);
[[nodiscard]] std::vector<std::string> paths_written(const Change& change);

// The changes that a resolution settles; empty for every other operation.
[[nodiscard]] std::vector<Uuid> changes_named_by(const Change& change);

// Of the changes of one record, those whose personal payload an erasure takes away: all that have not seen it.
[[nodiscard]] std::set<Uuid> changes_erased(const std::vector<Change>& changes);

}  // namespace tedge::casebook
