// What the author of a change knew when he wrote it: the changes that it has seen, those that they had seen, and so on.
// For a few questions about one record; the fold, which asks of every pair, has its own table.
#pragma once

#include <map>
#include <set>
#include <vector>

#include "tedge/casebook/change.hpp"

namespace tedge::casebook {

class SeenPast {
public:
    // The changes must outlive this.
    explicit SeenPast(const std::vector<Change>& changes);

    // None when there is no change of this id among them.
    [[nodiscard]] const Change* find(const Uuid& id) const;

    // Everything that a change has in its past, itself too; empty for a change that is not there.
    [[nodiscard]] std::set<Uuid> of(const Uuid& change) const;

private:
    std::map<Uuid, const Change*> changes_;
};

}  // namespace tedge::casebook
