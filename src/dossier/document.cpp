#include "tedge/dossier/document.hpp"

#include <algorithm>

namespace tedge::dossier {

DataTable without_empty_columns(DataTable table) {
    for (std::size_t i = table.columns.size(); i-- > 0;) {
        const bool empty = std::ranges::all_of(table.rows, [&](const auto& row) { return row[i].empty(); });
        if (!empty || table.rows.empty()) continue;
        const auto at = static_cast<std::ptrdiff_t>(i);
        table.columns.erase(table.columns.begin() + at);
        for (auto& row : table.rows) row.erase(row.begin() + at);
    }
    return table;
}

}  // namespace tedge::dossier
