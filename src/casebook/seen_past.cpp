#include "seen_past.hpp"

namespace tedge::casebook {

SeenPast::SeenPast(const std::vector<Change>& changes) {
    for (const Change& change : changes) changes_.emplace(change.id, &change);
}

const Change* SeenPast::find(const Uuid& id) const {
    const auto found = changes_.find(id);
    return found != changes_.end() ? found->second : nullptr;
}

std::set<Uuid> SeenPast::of(const Uuid& change) const {
    std::set<Uuid> past;
    std::vector<Uuid> ahead{change};
    while (!ahead.empty()) {
        const Uuid id = ahead.back();
        ahead.pop_back();
        const Change* found = find(id);
        if (found == nullptr || !past.insert(id).second) continue;
        ahead.insert(ahead.end(), found->seen.begin(), found->seen.end());
    }
    return past;
}

}  // namespace tedge::casebook
