// Reading the compiled-in tables. They are part of the program: a cell that cannot be read is a programming error.
#pragma once

#include <chrono>
#include <optional>
#include <string_view>

#include "tedge/base/clock.hpp"
#include "tedge/base/decimal.hpp"
#include "tedge/base/money.hpp"
#include "tedge/base/table.hpp"

namespace tedge::money {

[[nodiscard]] inline Table reference_table(std::string_view csv) {
    return Table::parse(csv).value();
}

[[nodiscard]] inline std::int64_t amount_cell(const Table& table, std::size_t row, std::string_view column,
                                              const Currency& currency) {
    return parse_money(table.cell(row, column), currency).value().minor;
}

[[nodiscard]] inline std::optional<std::int64_t> optional_amount_cell(const Table& table, std::size_t row,
                                                                      std::string_view column,
                                                                      const Currency& currency) {
    if (table.cell(row, column).empty()) return std::nullopt;
    return amount_cell(table, row, column, currency);
}

// Whether a row with `valid_from` and `valid_to` (both included, empty: no end) holds on the day.
[[nodiscard]] inline bool holds_on(const Table& table, std::size_t row, std::chrono::year_month_day day) {
    const std::chrono::sys_days when = day;
    const auto& from = table.cell(row, "valid_from");
    const auto& to = table.cell(row, "valid_to");
    return (from.empty() || std::chrono::sys_days(parse_date(from).value()) <= when) &&
           (to.empty() || when <= std::chrono::sys_days(parse_date(to).value()));
}

}  // namespace tedge::money
