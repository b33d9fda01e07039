#include "chain_checker.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace tedge::casebook {

void ChainChecker::take(const Change& change) {
    ++report_->changes;
    for (const std::string& fault : faults_of(change)) problem(change, fault);
    const bool same_chain = change.replica == here_.replica && change.case_id == here_.case_id;
    if (!same_chain) {
        before_ = {change.replica, change.case_id, 0, {Sha256Digest{}}};
        here_ = {change.replica, change.case_id, change.number, {}};
    } else if (change.number != here_.number) {
        before_ = std::move(here_);
        here_ = {change.replica, change.case_id, change.number, {}};
    }
    check_place(change);
    here_.hashes.push_back(change.hash);
}

void ChainChecker::check_place(const Change& change) {
    if (!here_.hashes.empty()) {
        problem(change, fmt::format("has the number {} that another change of its chain has too: the chain forks here, "
                                    "and both sides are kept",
                                    change.number));
    }
    // Numbers may be anything in an altered row: nothing is added to them before it is known that there is room.
    if (change.number < 1 || change.number - 1 != before_.number) {
        problem(change, fmt::format("has the number {} after {}: changes are missing", change.number, before_.number));
    } else if (std::ranges::find(before_.hashes, change.previous) == before_.hashes.end()) {
        problem(change, "does not follow the change before it in its chain");
    }
}

void ChainChecker::problem(const Change& change, const std::string& what) {
    report_->problems.push_back(
        fmt::format("Change {} ({} of a {}): {}.", to_text(change.id), to_text(change.operation), change.kind, what));
}

}  // namespace tedge::casebook
