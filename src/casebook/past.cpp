#include "past.hpp"

#include <algorithm>
#include <queue>
#include <tuple>
#include <unordered_map>

namespace tedge::casebook {

Past::Past(const std::vector<Change>& changes) : parents_(changes.size()) {
    std::unordered_map<Uuid, ChangeIndex> index;
    for (ChangeIndex i = 0; i < changes.size(); ++i) index.emplace(changes[i].id, i);
    for (ChangeIndex i = 0; i < changes.size(); ++i) {
        for (const Uuid& seen : changes[i].seen) {
            const auto found = index.find(seen);
            if (found != index.end() && found->second != i) parents_[i].push_back(found->second);
        }
    }
    sort(changes);
    position_.resize(changes.size());
    for (ChangeIndex p = 0; p < order_.size(); ++p) position_[order_[p]] = p;
    single_line_ = follows_one_another();
    if (!single_line_) collect_ancestors();
}

// Kahn's algorithm with the least (clock, id) first. A circle of `seen` cannot be made honestly; what is caught in
// one comes last, in (clock, id) order, so that nothing is dropped.
void Past::sort(const std::vector<Change>& changes) {
    const auto later = [&](ChangeIndex a, ChangeIndex b) {
        return std::tie(changes[a].clock, changes[a].id) > std::tie(changes[b].clock, changes[b].id);
    };
    std::vector<std::vector<ChangeIndex>> children(changes.size());
    std::vector<std::size_t> waiting(changes.size());
    std::priority_queue<ChangeIndex, std::vector<ChangeIndex>, decltype(later)> ready(later);
    for (ChangeIndex i = 0; i < changes.size(); ++i) {
        waiting[i] = parents_[i].size();
        for (const ChangeIndex parent : parents_[i]) children[parent].push_back(i);
        if (waiting[i] == 0) ready.push(i);
    }
    std::vector<bool> placed(changes.size(), false);
    while (!ready.empty()) {
        const ChangeIndex next = ready.top();
        ready.pop();
        order_.push_back(next);
        placed[next] = true;
        for (const ChangeIndex child : children[next]) {
            if (--waiting[child] == 0) ready.push(child);
        }
    }
    std::vector<ChangeIndex> circle;
    for (ChangeIndex i = 0; i < changes.size(); ++i) {
        if (!placed[i]) circle.push_back(i);
    }
    std::ranges::sort(circle, [&](ChangeIndex a, ChangeIndex b) { return later(b, a); });
    order_.insert(order_.end(), circle.begin(), circle.end());
}

bool Past::follows_one_another() const {
    for (ChangeIndex p = 1; p < order_.size(); ++p) {
        const auto& seen = parents_[order_[p]];
        if (std::ranges::find(seen, order_[p - 1]) == seen.end()) return false;
    }
    return true;
}

void Past::collect_ancestors() {
    ancestors_.assign(parents_.size(), std::vector<bool>(parents_.size(), false));
    for (const ChangeIndex i : order_) {
        for (const ChangeIndex parent : parents_[i]) {
            ancestors_[i][parent] = true;
            for (ChangeIndex a = 0; a < parents_.size(); ++a) {
                if (ancestors_[parent][a]) ancestors_[i][a] = true;
            }
        }
    }
}

}  // namespace tedge::casebook
