#include "tedge/casebook/snapshot.hpp"

#include <algorithm>

namespace tedge::casebook {

std::vector<const Record*> CaseSnapshot::of_kind(std::string_view kind) const {
    std::vector<const Record*> found;
    for (const Record& record : records) {
        if (record.kind == kind) found.push_back(&record);
    }
    return found;
}

const Record* CaseSnapshot::find(const Uuid& id) const {
    if (picture.id == id) return &picture;
    for (const auto* list : {&records, &people}) {
        const auto found = std::ranges::find(*list, id, &Record::id);
        if (found != list->end()) return &*found;
    }
    return nullptr;
}

}  // namespace tedge::casebook
