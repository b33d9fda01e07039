// The stock of the house: the margin scheme's stock book, and the list that lies on the desk, its cost prices in code.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <vector>

#include "tedge/money/stock_book.hpp"
#include "tedge/usecases/house.hpp"

namespace tedge::usecases {

// A picture outside the margin scheme: bought with VAT that is reclaimed, or sold with VAT on the whole price.
struct OrdinaryVatRow {
    std::string stock_number{};
    std::string description{};
    std::string purchased_on{};
    std::string purchase_invoice{};
    std::string seller{};
    std::optional<Money> purchase_price{};  // all of it, VAT in it
    std::optional<Money> input_vat{};       // reclaimed
    std::string sold_on{};                  // "" while it is in stock
    std::string sales_invoice{};
    std::string buyer{};
    std::optional<Money> selling_price{};  // VAT in it
    bool exported = false;                 // zero-rated
    Decimal vat_percent{};
    std::optional<Money> output_vat{};  // once it is sold
};

struct OrdinaryVat {
    std::vector<OrdinaryVatRow> rows{};  // by stock number
    Money input_vat;                     // of what was bought in the period
    Money output_vat;                    // of what was sold in it
    std::vector<std::string> missing{};  // what a claim or a zero rate needs and nobody recorded, a sentence each
};

struct StockBookOfHouse {
    money::StockBook book;
    std::vector<std::string> left_out{};  // pictures that are not margin-scheme stock, and why
    OrdinaryVat ordinary;
};

// What was bought on or before `to` and had not left before `from`; what left after `to` stands in it as stock. Amounts
// in the currency of the house at the rates recorded with them. A picture that went back to its seller has left by
// that; one whose buyer got part of the price back is entered at the rest. Bought with VAT on the hammer price: left
// out, as is what was bought with VAT that is reclaimed: these stand, with what was sold outside the scheme, under
// ordinary VAT. Errors: stock.period (from after to), money.mixed-currencies, accounts.two-sales, margin.*.
[[nodiscard]] Expected<StockBookOfHouse> stock_book_of(casebook::Casebook& book, std::chrono::year_month_day from,
                                                       std::chrono::year_month_day to);

// RFC 4180 with a header row; amounts in major units, the currency in a column of its own.
[[nodiscard]] std::string ordinary_vat_csv(const OrdinaryVat& made);

struct StockListRow {
    Uuid case_id;
    std::string stock_number{};
    std::string description{};
    std::string bought_on{};
    std::string cost_in_code{};  // purchase and costs so far, "" where there is no purchase price or no code
    std::optional<Money> asking_price{};
};

// What is bought and neither sold nor gone back, by stock number. No cost is in it but in code. Errors: as above.
[[nodiscard]] Expected<std::vector<StockListRow>> stock_list(casebook::Casebook& book);
[[nodiscard]] std::string stock_list_csv(const std::vector<StockListRow>& rows);

}  // namespace tedge::usecases
