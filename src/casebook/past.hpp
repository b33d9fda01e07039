// The order of one record's changes, and which of them stood in another's past when it was made.
#pragma once

#include <vector>

#include "tedge/casebook/change.hpp"

namespace tedge::casebook {

using ChangeIndex = std::size_t;  // in the vector a Past was made of

// What each change has seen, as indexes, and everything in its past.
class Past {
public:
    explicit Past(const std::vector<Change>& changes);

    // What a change has seen comes before it; (clock, id) breaks ties.
    [[nodiscard]] const std::vector<ChangeIndex>& order() const { return order_; }
    [[nodiscard]] const std::vector<ChangeIndex>& parents(ChangeIndex of) const { return parents_[of]; }
    [[nodiscard]] bool in_past(ChangeIndex earlier, ChangeIndex of) const {
        return single_line_ ? position_[earlier] < position_[of] : ancestors_[of][earlier];
    }
    // Each change has seen the one before it: the usual case, in which no two did not know each other.
    [[nodiscard]] bool is_single_line() const { return single_line_; }

private:
    void sort(const std::vector<Change>& changes);
    [[nodiscard]] bool follows_one_another() const;
    void collect_ancestors();

    std::vector<std::vector<ChangeIndex>> parents_;
    std::vector<ChangeIndex> order_;
    std::vector<ChangeIndex> position_;  // of each change in the order
    bool single_line_ = false;
    std::vector<std::vector<bool>> ancestors_;  // empty for a single line
};

}  // namespace tedge::casebook
