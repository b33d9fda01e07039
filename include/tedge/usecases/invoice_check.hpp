// The saleroom's invoice as it came, held line by line against what the terms of the lot make of the hammer price.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tedge/money/invoice.hpp"
#include "tedge/usecases/records.hpp"

namespace tedge::usecases {

struct ReceivedInvoice {
    struct Line {
        std::string name;  // "hammer", "VAT on premium" … as charge_of() knows them, else a charge of the room's own
        Money amount;
    };
    std::string number{};
    std::vector<Line> lines{};
    std::optional<Money> total{};  // as printed
};

// The charge that an invoice calls so: by its own name or another usual one ("Hammer price", "Buyer's premium"),
// letters large or small.
[[nodiscard]] std::optional<money::Charge> charge_of(std::string_view name);

// {"number": "A-17", "lines": [{"name": "hammer", "amount": 8500}, …], "total": 11050}; amounts are decimal numbers in
// major units, or the same as text. Errors: invoice.not-read (values.reason), those of parse_money().
[[nodiscard]] Expected<ReceivedInvoice> parse_received_invoice(std::string_view json, const Currency& currency);

// The same as it is copied out of a message or saved from a table (CSV): a line each, its name, then a tab, a
// semicolon, a comma or a blank, and the amount, thousands parted by commas or not, with or without the currency. Lines
// named "total" and "invoice number" are what they say; lines of no amount are refused. Errors: invoice.not-read.
[[nodiscard]] Expected<ReceivedInvoice> parse_invoice_table(std::string_view text, const Currency& currency);

// Either: JSON begins with "{".
[[nodiscard]] Expected<ReceivedInvoice> read_received_invoice(std::string_view text, const Currency& currency);

struct InvoiceCheck {
    std::vector<money::InvoiceDifference> lines{};      // due or charged, by the terms
    std::vector<ReceivedInvoice::Line> not_in_terms{};  // charged, and no line of the terms
    Money due;                                          // all-in by the terms
    Money charged;                                      // the sum of the lines
    std::vector<std::string> differences{};             // each in a sentence that names the line; empty: it agrees
    std::vector<std::string> remarks{};                 // what was taken for granted

    [[nodiscard]] bool agrees() const { return differences.empty(); }
};

// Of the purchase of the newest lot, else of the lot's own hammer price. Errors: lot.none, lot.no-hammer, lot.no-terms,
// money.mixed-currencies, those of money::compare_invoice().
[[nodiscard]] Expected<InvoiceCheck> check_invoice(const casebook::CaseSnapshot& snapshot,
                                                   const ReceivedInvoice& received);

// The hammer price that check_invoice() takes. Errors: lot.none, lot.no-hammer.
[[nodiscard]] Expected<Money> hammer_paid(const casebook::CaseSnapshot& snapshot);

// Keeps it with the purchase, its number too. Errors: invoice.no-purchase, those of change_record().
[[nodiscard]] Expected<Done> keep_invoice(const Acting& acting, const Uuid& case_id, const ReceivedInvoice& received);

}  // namespace tedge::usecases
