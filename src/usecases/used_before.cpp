#include "tedge/usecases/used_before.hpp"

#include <algorithm>

namespace tedge::usecases {

std::vector<std::string> used_before(const casebook::CaseSnapshot& snapshot, std::string_view kind,
                                     std::string_view field, std::size_t limit) {
    auto records = snapshot.of_kind(kind);
    std::ranges::stable_sort(records, [](const auto* a, const auto* b) { return a->last_written > b->last_written; });
    std::vector<std::string> texts;
    for (const casebook::Record* record : records) {
        std::string text = record->body.text_or(field);
        if (texts.size() == limit) break;
        if (!text.empty() && std::ranges::find(texts, text) == texts.end()) texts.push_back(std::move(text));
    }
    return texts;
}

}  // namespace tedge::usecases
