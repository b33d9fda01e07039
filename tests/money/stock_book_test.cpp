#include "tedge/money/stock_book.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "reference_rows.hpp"

using namespace tedge;
using namespace tedge::money;
using namespace tedge::test;

namespace {

StockBookEntry entry(const std::string& number, const char* bought, const char* sold) {
    return {.stock_number = number,
            .purchased_on = "2026-01-10",
            .purchase_invoice = "P-" + number,
            .purchase_price = gbp(bought),
            .seller = "Sallow & Daughter, Fenwick Street",
            .description = "River \"at evening\", oil",
            .sold_on = "2026-02-20",
            .sales_invoice = "S-" + number,
            .selling_price = gbp(sold),
            .buyer = "Ines Holloway",
            .vat_percent = dec("20")};
}

}  // namespace

// Sources: HMRC Notice 718/2 (March 2011 text) section 8; gov.uk VAT margin schemes; the rest as the rows say.
TEST_CASE("the rows of the stock book reproduce the reference's worked examples") {
    const Table rows = reference_rows("vat_examples.csv");
    std::vector<StockBookEntry> entries;
    for (std::size_t row = 0; row < rows.row_count(); ++row) {
        entries.push_back(entry(std::to_string(row + 1), rows.cell(row, "purchase_price").c_str(),
                                rows.cell(row, "selling_price").c_str()));
        entries.back().exported = rows.cell(row, "checked").find("zero-rated") != std::string::npos;
    }
    const StockBook book = stock_book(entries, pounds()).value();
    CHECK(book.missing.empty());
    const Table written = Table::parse(stock_book_csv(book)).value();
    REQUIRE(written.row_count() == rows.row_count());
    Money due = gbp("0");
    for (std::size_t row = 0; row < rows.row_count(); ++row) {
        INFO(rows.cell(row, "id"));
        CHECK(gbp(written.cell(row, "margin")) == gbp(rows.cell(row, "margin")));
        CHECK(gbp(written.cell(row, "vat_due")) == gbp(rows.cell(row, "vat_due")));
        CHECK(gbp(written.cell(row, "purchase_price")) == gbp(rows.cell(row, "purchase_price")));
        due = add(due, gbp(rows.cell(row, "vat_due"))).value();
    }
    CHECK(book.vat_due == due);  // the loss among them lowers nobody else's VAT
}

// The particulars of gov.uk, VAT margin schemes, "keeping records".
TEST_CASE("a row has every particular that is asked for, and what is missing is named") {
    const Table written =
        Table::parse(stock_book_csv(stock_book({entry("7", "1500", "2000")}, pounds()).value())).value();
    for (const char* particular :
         {"stock_number", "purchased_on", "purchase_invoice", "purchase_price", "seller", "description", "sold_on",
          "sales_invoice", "selling_price", "buyer", "margin", "vat_due"}) {
        CAPTURE(particular);
        CHECK_FALSE(written.cell(0, particular).empty());
    }
    CHECK(written.cell(0, "description") == "River \"at evening\", oil");  // RFC 4180: quotes and commas come back
    CHECK(written.cell(0, "vat_due") == "83.33");

    const StockBook bare = stock_book({{.sold_on = "2026-02-20"}}, pounds()).value();
    CHECK(bare.missing.size() == 9);
    StockBookEntry in_stock = entry("8", "900", "0");
    in_stock.sold_on.clear();
    in_stock.selling_price.reset();
    const StockBook held = stock_book({in_stock}, pounds()).value();
    CHECK(held.missing.empty());
    CHECK_FALSE(held.rows.front().vat);
    CHECK(held.purchases == gbp("0"));
}

TEST_CASE("stock numbers stand in numerical sequence, and one given twice is named") {
    const StockBook book =
        stock_book({entry("S-10", "1", "2"), entry("S-9", "1", "2"), entry("", "1", "2"), entry("S-9", "1", "2")},
                   pounds())
            .value();
    std::vector<std::string> order;
    for (const StockBookRow& row : book.rows) order.push_back(row.entry.stock_number);
    CHECK(order == std::vector<std::string>{"S-9", "S-9", "S-10", ""});
    CHECK(std::ranges::count(book.missing, "The stock number S-9 stands twice.") == 1);
}

TEST_CASE("a row in another currency is refused, never added up") {
    StockBookEntry other = entry("2", "1", "2");
    other.purchase_price = parse_money("1", Currency::parse("EUR").value()).value();
    CHECK(stock_book({entry("1", "1", "2"), other}, pounds()).error().code == "money.mixed-currencies");
}
