// All pictures at once: the money in them, what is expected out of them, the cash that is needed month by month, and
// the worst case. Expectations come from the ceiling fixed last (its plan); where none was fixed there is none.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tedge/casebook/casebook.hpp"
#include "tedge/money/result_shares.hpp"
#include "tedge/usecases/accounts.hpp"

namespace tedge::usecases {

struct PortfolioRow {
    Uuid case_id;
    std::string title{};
    bool sold = false;
    // In the currency of the house.
    Money paid_out;
    Money paid_in;
    Money owed_by_us;
    Money owed_to_us;
    Money result;                          // so far, or in the end where it is sold
    std::optional<Money> limit{};          // of the ceiling, while the picture is not bought
    std::optional<Money> costs_to_come{};  // estimated and not yet owed: mean, at the plan's mean factor
    std::optional<Money> costs_at_most{};  // every one at its highest, at the largest factor
    std::optional<Money> expected_out{};   // mean price less commission and VAT, while it is unsold
    std::optional<Money> expected_result{};
    std::optional<Money> worst_result{};  // lowest price, highest costs
    std::string expected_month{};         // "2026-11", "" where the plan says no months
};

// One month, or what no day is recorded of (month "", which is last).
struct PortfolioMonth {
    std::string month{};
    Money needed;    // owed by us and due then, and costs to come
    Money at_most;   // with costs at their highest
    Money expected;  // owed to us, and sales to come
};

struct Portfolio {
    Currency currency;
    std::vector<PortfolioRow> rows{};  // bought, or with a limit and still open; in the order the cases were opened
    std::vector<PortfolioMonth> months{};
    // Sums over what is bought. The worst of all is that every picture goes worst at once.
    Money paid_out;
    Money paid_in;
    Money owed_by_us;
    Money owed_to_us;
    Money expected_out;
    Money worst_result;
    std::vector<std::string> doubts{};  // what no figure is in the sums of, a sentence each
};

// Errors: those of accounts_of_case with values.case, money.out-of-range.
[[nodiscard]] Expected<Portfolio> portfolio(casebook::Casebook& book);

// What may still come out of one picture, and for each who has a part in it (commissions on a profit to come not taken
// off). Errors: those of accounts_of_case.
struct Outlook {
    std::optional<PortfolioRow> row{};              // none where there is no money in it and no limit stands
    std::optional<money::SharedResult> expected{};  // parts in the order of the shares of its accounts
    std::optional<money::SharedResult> worst{};
    std::vector<std::string> doubts{};  // those of its accounts among them
};
[[nodiscard]] Expected<Outlook> outlook_of_case(const casebook::CaseSnapshot& snapshot, const Currency& currency);

[[nodiscard]] std::string portfolio_csv(const Portfolio& made);
[[nodiscard]] std::string portfolio_months_csv(const Portfolio& made);

}  // namespace tedge::usecases
