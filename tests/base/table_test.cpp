#include "tedge/base/table.hpp"

#include <catch2/catch.hpp>

using namespace tedge;

TEST_CASE("Tables follow RFC 4180") {
    const auto table = Table::parse("name,fd\r\n\"acetone, pure\",47\r\n\"said \"\"x\"\"\",\r\n");
    REQUIRE(table);
    CHECK(table->row_count() == 2);
    CHECK(table->cell(0, "name") == "acetone, pure");
    CHECK(table->cell(1, "name") == "said \"x\"");
    CHECK(table->cell(1, "fd").empty());
    CHECK(table->has_column("fd"));
    CHECK_FALSE(table->has_column("fp"));
    CHECK_THROWS_AS(table->cell(0, "fp"), std::out_of_range);
}

TEST_CASE("A ragged or broken table says where") {
    const auto ragged = Table::parse("a,b\n1,2\n1,2,3\n");
    REQUIRE_FALSE(ragged);
    CHECK(ragged.error().code == "table.ragged-row");
    CHECK(ragged.error().values.at("row") == "3");
    CHECK(Table::parse("").error().code == "table.no-header");
    CHECK(Table::parse("a\n\"open").error().code == "table.malformed");
}

TEST_CASE("A written line reads back as its cells") {
    const std::vector<std::string> cells{"plain", "with, comma", "with \"quotes\"", "two\nlines", ""};
    const auto table = Table::parse("a,b,c,d,e\r\n" + to_csv_line(cells));
    REQUIRE(table);
    for (std::size_t i = 0; i < cells.size(); ++i) CHECK(table->cell(0, table->columns()[i]) == cells[i]);
}
