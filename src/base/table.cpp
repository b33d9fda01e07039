#include "tedge/base/table.hpp"

#include <csv.h>
#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>

#include "tedge/base/text.hpp"

namespace tedge {

namespace {

struct Collected {
    std::vector<std::vector<std::string>> rows{1};
};

void take_cell(void* bytes, std::size_t size, void* collected) {
    static_cast<Collected*>(collected)->rows.back().emplace_back(static_cast<const char*>(bytes), size);
}

void end_row(int /*terminator*/, void* collected) {
    static_cast<Collected*>(collected)->rows.emplace_back();
}

}  // namespace

Expected<Table> Table::parse(std::string_view csv) {
    csv_parser parser{};
    if (csv_init(&parser, CSV_STRICT | CSV_STRICT_FINI) != 0) throw std::bad_alloc();
    Collected collected;
    const std::size_t read = csv_parse(&parser, csv.data(), csv.size(), take_cell, end_row, &collected);
    const bool whole = read == csv.size() && csv_fini(&parser, take_cell, end_row, &collected) == 0;
    csv_free(&parser);
    if (!whole) {
        return fail("table.malformed", fmt::format("The table breaks off in row {}.", collected.rows.size()),
                    "Check the quotation marks there.");
    }
    if (collected.rows.back().empty()) collected.rows.pop_back();
    if (collected.rows.empty()) return fail("table.no-header", "The table has no header row.");

    Table table;
    table.columns_ = std::move(collected.rows.front());
    for (std::size_t i = 1; i < collected.rows.size(); ++i) {
        if (collected.rows[i].size() != table.columns_.size()) {
            return fail("table.ragged-row",
                        fmt::format("Row {} of the table has {} cells where the header has {}.", i + 1,
                                    collected.rows[i].size(), table.columns_.size()),
                        "Quote cells that hold a comma.", {{"row", fmt::format("{}", i + 1)}});
        }
        table.rows_.push_back(std::move(collected.rows[i]));
    }
    return table;
}

bool Table::has_column(std::string_view name) const {
    return std::ranges::find(columns_, name) != columns_.end();
}

const std::string& Table::cell(std::size_t row, std::string_view column) const {
    const auto at = std::ranges::find(columns_, column);
    if (at == columns_.end()) throw std::out_of_range("no column " + std::string(column));
    return rows_.at(row)[static_cast<std::size_t>(at - columns_.begin())];
}

std::string to_csv_line(const std::vector<std::string>& cells) {
    std::vector<std::string> quoted;
    for (const std::string& cell : cells) {
        if (cell.find_first_of(",\"\r\n") == std::string::npos) {
            quoted.push_back(cell);
            continue;
        }
        std::string out = "\"";
        for (const char c : cell) out += c == '"' ? std::string("\"\"") : std::string(1, c);
        quoted.push_back(out + "\"");
    }
    return join(quoted, ",") + "\r\n";
}

}  // namespace tedge
