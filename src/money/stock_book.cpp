#include "tedge/money/stock_book.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

#include "tedge/base/table.hpp"
#include "tedge/money/margin_scheme.hpp"
#include "tedge/money/sums.hpp"

namespace tedge::money {

namespace {

// Digits of a number compare by what they count, so that 9 comes before 10 and "S-9" before "S-10".
std::string for_sequence(const std::string& number) {
    std::string key;
    for (std::size_t i = 0; i < number.size();) {
        std::size_t end = i;
        while (end < number.size() && number[end] >= '0' && number[end] <= '9') ++end;
        if (end == i) {
            key += number[i++];
            continue;
        }
        while (i + 1 < end && number[i] == '0') ++i;
        key += fmt::format("{:04}{}", end - i, number.substr(i, end - i));
        i = end;
    }
    return key;
}

std::string called(const StockBookEntry& entry) {
    return entry.stock_number.empty() ? fmt::format("\"{}\"", entry.description)
                                      : fmt::format("stock number {}", entry.stock_number);
}

void name_missing(const StockBookEntry& entry, std::vector<std::string>& missing) {
    const bool is_sold = !entry.sold_on.empty();
    const std::array asked{
        std::pair{"the stock number", entry.stock_number.empty()},
        std::pair{"the date of purchase", entry.purchased_on.empty()},
        std::pair{"the purchase invoice number (unless the house made the invoice out)",
                  entry.purchase_invoice.empty()},
        std::pair{"the purchase price for the margin", !entry.purchase_price.has_value()},
        std::pair{"the name of the seller", entry.seller.empty()},
        std::pair{"the description", entry.description.empty()},
        std::pair{"the sales invoice number", is_sold && entry.disposal.empty() && entry.sales_invoice.empty()},
        std::pair{"the selling price or the method of disposal",
                  is_sold && entry.disposal.empty() && !entry.selling_price.has_value()},
        std::pair{"the name of the buyer", is_sold && entry.disposal.empty() && entry.buyer.empty()},
    };
    for (const auto& [what, lacks] : asked)
        if (lacks) missing.push_back(fmt::format("Of {} {} is not recorded.", called(entry), what));
}

Expected<StockBookRow> row_of(StockBookEntry entry) {
    StockBookRow row{std::move(entry), {}, {}};
    const StockBookEntry& e = row.entry;
    if (e.sold_on.empty() || !e.purchase_price || !e.selling_price) return row;
    const auto reckoned = margin_scheme(*e.purchase_price, *e.selling_price, e.exported ? Decimal{} : e.vat_percent);
    if (!reckoned) return pass_on(reckoned);
    row.margin = reckoned->margin;
    row.vat = reckoned->vat;
    return row;
}

Expected<void> check_kept_in(const StockBookEntry& entry, const Currency& currency) {
    for (const auto& amount : {entry.purchase_price, entry.selling_price}) {
        if (!amount || amount->currency == currency) continue;
        return fail("money.mixed-currencies",
                    fmt::format("Of {} an amount is in {}, and the stock book is kept in {}.", called(entry),
                                amount->currency.code(), currency.code()),
                    "Record the rate that was used with it, and its day.");
    }
    return {};
}

std::string text_of(const std::optional<Money>& amount) {
    return amount ? to_decimal_text(*amount) : std::string();
}

}  // namespace

bool stock_number_before(const std::string& a, const std::string& b) {
    if (a.empty() != b.empty()) return b.empty();
    return for_sequence(a) < for_sequence(b);
}

Expected<StockBook> stock_book(std::vector<StockBookEntry> entries, const Currency& currency) {
    const Money none{0, currency};
    StockBook book{{}, {}, none, none, none};
    std::ranges::stable_sort(entries, stock_number_before, &StockBookEntry::stock_number);
    for (StockBookEntry& entry : entries) {
        if (auto fits = check_kept_in(entry, currency); !fits) return pass_on(fits);
        name_missing(entry, book.missing);
        const bool again = !book.rows.empty() && !entry.stock_number.empty() &&
                           book.rows.back().entry.stock_number == entry.stock_number;
        if (again) book.missing.push_back(fmt::format("The stock number {} stands twice.", entry.stock_number));
        auto row = row_of(std::move(entry));
        if (!row) return pass_on(row);
        if (row->vat) {
            for (auto [sum, amount] :
                 {std::pair{&book.purchases, row->entry.purchase_price},
                  std::pair{&book.sales, row->entry.selling_price}, std::pair{&book.vat_due, row->vat}})
                if (auto added = add_to(*sum, *amount); !added) return pass_on(added);
        }
        book.rows.push_back(*std::move(row));
    }
    return book;
}

std::string stock_book_csv(const StockBook& book) {
    std::string csv = to_csv_line({"stock_number", "purchased_on", "purchase_invoice", "purchase_price", "seller",
                                   "description", "sold_on", "sales_invoice", "selling_price", "disposal", "buyer",
                                   "margin", "vat_percent", "vat_due", "currency"});
    const std::string currency(book.vat_due.currency.code());
    for (const StockBookRow& row : book.rows) {
        const StockBookEntry& e = row.entry;
        csv += to_csv_line(
            {e.stock_number, e.purchased_on, e.purchase_invoice, text_of(e.purchase_price), e.seller, e.description,
             e.sold_on, e.sales_invoice, text_of(e.selling_price), e.disposal, e.buyer, text_of(row.margin),
             row.vat ? (e.exported ? Decimal{} : e.vat_percent).to_text() : std::string(), text_of(row.vat), currency});
    }
    return csv;
}

}  // namespace tedge::money
