#include "recovery.hpp"

#include <algorithm>

#include "book_state.hpp"
#include "change_store.hpp"
#include "dialect.hpp"
#include "fold.hpp"
#include "tedge/base/text.hpp"

namespace tedge::casebook {

namespace {

using sqlite::Connection;
using sqlite::SqlError;

// Busy, without room or without memory: that says nothing of what the file holds.
void must_be_damage(const SqlError& problem) {
    if (problem.is_busy() || problem.is_of_disk()) throw problem;
}

// In the order in which they lie in the table, without its indexes. A page that cannot be read is stepped over row by
// row, for nobody knows how many it held.
std::vector<Change> changes_around_damage(const Connection& db) {
    constexpr std::int64_t widest_gap = 20'000;  // rows tried without finding one before the table is taken to end
    std::vector<Change> changes;
    std::int64_t last = 0;
    for (std::int64_t gap = 0; gap < widest_gap; ++gap) {
        try {
            visit_changes_behind(db, last + gap, [&](std::int64_t place, const Change& change) {
                changes.push_back(change);
                last = place;
                gap = 0;
            });
            break;  // the end was reached
        } catch (const SqlError& problem) {
            must_be_damage(problem);
        }
    }
    std::ranges::sort(changes, {}, [](const Change& c) { return std::tie(c.replica, c.case_id, c.number, c.id); });
    return changes;
}

}  // namespace

std::vector<Change> readable_changes(const Connection& db, std::vector<std::string>& faults) {
    std::vector<Change> changes;
    try {
        for_each_change(db, [&](const Change& change) { changes.push_back(change); });
        return changes;
    } catch (const SqlError& problem) {
        must_be_damage(problem);
    }
    changes = changes_around_damage(db);
    faults.push_back(fmt::format("The database of that casebook is damaged; {} could be read in it.",
                                 counted(changes.size(), "change", "changes")));
    return changes;
}

std::map<std::string, std::vector<Uuid>> readable_files(const Connection& db, const std::vector<Change>& changes) {
    try {
        return named_files(db);
    } catch (const SqlError& problem) {
        must_be_damage(problem);
    }
    std::map<Uuid, std::vector<Change>> of_record;
    for (const Change& change : changes) of_record[change.record].push_back(change);
    std::map<std::string, std::vector<Uuid>> names;
    for (const auto& [record, made] : of_record) {
        if (const auto name = file_of(fold(made))) names[*name].push_back(record);
    }
    return names;
}

}  // namespace tedge::casebook
