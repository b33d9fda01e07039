// Rows of tests/reference/, and short ways to say amounts.
#pragma once

#include <string>
#include <string_view>

#include "tedge/base/files.hpp"
#include "tedge/base/money.hpp"
#include "tedge/base/table.hpp"

namespace tedge::test {

inline Table reference_rows(std::string_view file) {
    const std::string path = std::string(TEDGE_SOURCE_DIR) + "/tests/reference/" + std::string(file);
    return Table::parse(read_file(path).value()).value();
}

inline Currency pounds() {
    return Currency::parse("GBP").value();
}

inline Money gbp(std::string_view amount) {
    return parse_money(amount, pounds()).value();
}

inline Decimal dec(std::string_view number) {
    return Decimal::parse(number).value();
}

inline std::string text(const Money& money) {
    return to_decimal_text(money);
}

}  // namespace tedge::test
