// The fold of one record's changes: the same bytes for the same set of changes, whatever order they arrived in.
#pragma once

#include <nlohmann/json.hpp>
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

// For each change (same indexes), whether `of` lies in its past or is itself.
[[nodiscard]] std::vector<bool> has_seen(const std::vector<Change>& changes, const Uuid& of);

}  // namespace tedge::casebook
