// The accounts of one picture: what it cost and brings, beside what was estimated; what is paid and still owed; the VAT
// on its sale; who has which part of the result.
//
// Every amount stands in its own currency. What is in another than the accounts are kept in counts at the rate that was
// recorded with it, and without one the accounts are refused: amounts in several currencies are never added up. What is
// paid counts at the rate of the payment, what is still owed at the rate of the purchase, cost, commission or sale.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tedge/casebook/snapshot.hpp"
#include "tedge/money/sale_vat.hpp"

namespace tedge::usecases {

// Something that is owed once, by us or to us, however often it is paid for.
struct AccountEntry {
    Uuid record;
    std::string kind;  // purchase, cost_line, commission, sale, return
    std::string what;  // "purchase", "varnish removal", "finder", "sale", "refund of the sale"
    std::optional<Uuid> party{};
    bool incoming = false;  // owed to us
    std::optional<casebook::Body::MoneyEstimate> estimate{};
    std::optional<Money> due{};        // in its own currency; none while there is an estimate alone
    std::optional<Money> paid{};       // the same
    std::optional<Money> owed{};       // due − paid, below 0 where too much was paid
    std::optional<Money> owed_here{};  // the same in the currency of the accounts
    std::optional<Money> counts{};     // in the currency of the accounts: what is paid and still owed
    std::string due_on{};              // ISO day, "" where none is recorded
    std::vector<Uuid> payments{};
};

struct AccountsSale {
    Uuid record;
    money::SaleScheme scheme = money::SaleScheme::untaxed;
    Money price;                          // in the currency of the accounts, what was refunded taken off
    std::optional<Money> margin_price{};  // as recorded with the purchase, apart from the all-in price
    std::optional<Money> all_in{};
    Decimal vat_percent{};
    std::optional<money::SaleVat>
        vat{};  // none where it cannot be reckoned: a doubt says why, the result is before VAT
};

struct AccountsShare {
    Uuid record;
    std::optional<Uuid> party{};
    Decimal percent{};
    Money part;      // of the result so far
    Money paid_in;   // by the one who has the share
    Money paid_out;  // to him
};

struct CaseAccounts {
    Currency currency;
    std::vector<AccountEntry> entries{};  // in the order they were recorded
    std::optional<AccountsSale> sale{};   // none while it is unsold, or where the whole price was refunded
    std::vector<AccountsShare> shares{};
    // In the currency of the accounts.
    Money paid_out;  // all payments, deposits too
    Money paid_in;
    Money deposits_held;  // ours with others, that settle nothing yet; below 0: others' with us
    Money owed_by_us;
    Money owed_to_us;
    Money result;  // sale − VAT + recovered VAT − purchase, costs, commissions, as far as they are known
    Money ours;    // of the result
    std::vector<std::string> doubts{};  // what the figures do not know, a sentence each

    [[nodiscard]] bool is_sold() const { return sale.has_value(); }
};

// Errors: money.mixed-currencies (values.record, values.field: no rate into `currency` is recorded with it),
// accounts.two-sales (two sales that were not returned), shares.*, margin.*, money.out-of-range.
[[nodiscard]] Expected<CaseAccounts> accounts_of_case(const casebook::CaseSnapshot& snapshot, const Currency& currency);

// The kinds of record that accounts are made from, for a list of all cases.
[[nodiscard]] std::vector<std::string> kinds_of_accounts();

// Comma-separated (RFC 4180): a row for each entry and payment, amounts in major units with their own currency and in
// that of the accounts.
[[nodiscard]] Expected<std::string> accounts_csv(const casebook::CaseSnapshot& snapshot, const CaseAccounts& accounts);

// An amount of a record in another currency, by the rate recorded beside it. Errors: money.mixed-currencies.
[[nodiscard]] Expected<Money> at_recorded_rate(const casebook::Record& record, const Money& amount,
                                               const Currency& currency);

}  // namespace tedge::usecases
