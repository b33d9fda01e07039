// The union of two sets of changes. Nothing is refused for what it says, and nothing is dropped.
#pragma once

#include <vector>

#include "sqlite/connection.hpp"
#include "tedge/casebook/casebook.hpp"

namespace tedge::casebook {

struct MergedChanges {
    MergeReport report;
    bool erased = false;  // an erasure came in or took something away: a purge is due
    // Changes of our own replica came from outside: this folder was set back to an earlier state, and has to count in a
    // chain of its own from now on.
    bool met_ourselves = false;
};

// Takes `changes` into the book as made by somebody of the role `sender`, and folds what they touch. Must run inside a
// transaction.
[[nodiscard]] MergedChanges merge_changes(const sqlite::Connection& db, const Uuid& replica, Instant now, Reader sender,
                                          const std::vector<Change>& changes);

}  // namespace tedge::casebook
