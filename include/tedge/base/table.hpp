// Comma-separated tables (RFC 4180) with a header row: the published figures compiled into the libraries, and exports.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "tedge/base/error.hpp"

namespace tedge {

class Table {
public:
    // Errors: table.no-header, table.ragged-row (says which row), table.malformed.
    [[nodiscard]] static Expected<Table> parse(std::string_view csv);

    [[nodiscard]] std::size_t row_count() const { return rows_.size(); }
    [[nodiscard]] const std::vector<std::string>& columns() const { return columns_; }
    [[nodiscard]] bool has_column(std::string_view name) const;

    // The cell, "" where it is empty. Naming a column that does not exist, or a row beyond the end, is a programming
    // error and throws std::out_of_range.
    [[nodiscard]] const std::string& cell(std::size_t row, std::string_view column) const;

private:
    std::vector<std::string> columns_;
    std::vector<std::vector<std::string>> rows_;
};

// One line with CRLF, quoted where RFC 4180 asks for it.
[[nodiscard]] std::string to_csv_line(const std::vector<std::string>& cells);

}  // namespace tedge
