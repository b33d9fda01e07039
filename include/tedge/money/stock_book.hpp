// The stock book of the margin scheme: one row for each picture, with the particulars that have to be in it.
//
// Purchase side: stock number in numerical sequence, date of purchase, purchase invoice number (unless the buyer made
// the invoice out himself), purchase price, name of seller, description. Sales side: date of sale, sales invoice
// number, selling price or method of disposal, name of buyer, margin, VAT due. Kept six years, for stock longer held
// until it is sold. Source: gov.uk, VAT margin schemes, "keeping records" (read); that goods on sale or return are
// entered too is known at second hand. The list of what a sales invoice must say is from memory and not checked here.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tedge/base/decimal.hpp"
#include "tedge/base/money.hpp"

namespace tedge::money {

// Days as ISO dates; "" where something is not recorded.
struct StockBookEntry {
    std::string stock_number{};
    std::string purchased_on{};
    std::string purchase_invoice{};
    std::optional<Money> purchase_price{};  // for the margin, apart from the all-in price
    std::string seller{};
    std::string description{};
    std::string sold_on{};  // "" while it is in stock
    std::string sales_invoice{};
    std::optional<Money> selling_price{};
    std::string disposal{};  // how it left, where it was not sold for a price
    std::string buyer{};
    Decimal vat_percent{};
    bool exported = false;  // zero-rated: the margin stands, no VAT is due
};

struct StockBookRow {
    StockBookEntry entry;
    std::optional<Money> margin{};  // both once it is sold
    std::optional<Money> vat{};
};

struct StockBook {
    std::vector<StockBookRow> rows{};    // by stock number, in numerical sequence; without one last
    std::vector<std::string> missing{};  // particulars that are not recorded, and numbers given twice: a sentence each
    Money purchases;                     // of the rows that are sold
    Money sales;
    Money vat_due;
};

// Errors: those of margin_scheme(), money.mixed-currencies (an entry in another currency than `currency`: convert it by
// the rate recorded with it first), money.out-of-range.
[[nodiscard]] Expected<StockBook> stock_book(std::vector<StockBookEntry> entries, const Currency& currency);

// Whether a stock number comes first in numerical sequence: 9 before 10, "S-9" before "S-10", none last.
[[nodiscard]] bool stock_number_before(const std::string& a, const std::string& b);

// RFC 4180 with a header row; amounts in major units with a point, the currency in a column of its own.
[[nodiscard]] std::string stock_book_csv(const StockBook& book);

}  // namespace tedge::money
