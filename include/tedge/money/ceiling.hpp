// The bid ceiling: the highest hammer price that still leaves the profit wanted, keeps the risk accepted and the cash
// there is.
//
//   target  largest hammer price whose expected profit is at least target.profit
//   risk    largest hammer price with P(profit < 0) <= target.loss_probability
//   cash    largest hammer price with all-in + every cost at its high value (times the largest cost factor) <=
//   target.cash
//
//   profit  = price·(1 − commission) − VAT on the sale − all-in + VAT recovered − costs − finance
//   finance = (all-in + costs)·rate·months/12, simple interest
//
// How exact: all-in, margin price, the cash ceiling and every bid to the penny. The expected profit is exact where it
// is linear (all ways of selling but the margin scheme, and the margin scheme where a price lies wholly above or below
// the margin price), otherwise by quadrature, good to a penny in ordinary plans. A plan in which nothing is uncertain
// within an outcome is exact throughout. Otherwise the chance of loss and the quantiles come from a simulation on a
// fixed lattice, the price integrated exactly in each draw: no seed, the same on every machine, monotone in the hammer
// price. A loss probability of 0 is answered from the worst case, exactly.
//
// Check: S 20,000, costs 3,000, target 4,000 under the margin scheme at 20 %: P = S − 1.2 (C + target) = 11,600
// (own derivation from gov.uk's rule, tests/money/ceiling_closed_form_test.cpp).
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tedge/money/ceiling_plan.hpp"

namespace tedge::money {

enum class Limit { target, risk, cash };

[[nodiscard]] std::string_view limit_name(Limit limit);  // "target", "risk", "cash"

// Something the reader should know, with a code and values so that it can be said in another language.
struct Remark {
    std::string code;
    std::string text;
    std::map<std::string, std::string> values{};
};

struct Ceiling {
    Money hammer;                    // to the penny below; 0 when even a penny is too much
    Money bid;                       // the highest increment not above it; 0 when there is none
    std::optional<Remark> reason{};  // why the bid is 0
};

struct ProfitQuantiles {
    Money p5;
    Money p50;
    Money p95;
};

// What buying at a hammer price (more than 0) leads to.
struct ProfitAtHammer {
    Money hammer;  // in the currency of the sale, all else in the plan's
    Money all_in;
    Money margin_price;
    Money expected_profit;
    double loss_probability;
    ProfitQuantiles quantiles;
};

struct CeilingReport {
    std::optional<Ceiling> target{};  // each is left out where the plan sets no such limit
    std::optional<Ceiling> risk{};
    std::optional<Ceiling> cash{};
    std::optional<Limit> binding{};          // the lowest of them
    std::optional<Money> bid{};              // its bid
    std::optional<ProfitAtHammer> at_bid{};  // none without a bid, or where it is 0 and nothing is bought
    std::vector<Remark> remarks{};
};

// The hammer price of the ceiling that binds; none where no limit is set.
[[nodiscard]] std::optional<Money> binding_hammer(const CeilingReport& report);

struct CeilingOptions {
    std::uint32_t draws = 32'768;  // shared between the ways it may go; at least 16 each
};

// Errors: those of check(CeilingPlan), money.out-of-range (a result too large to be counted).
[[nodiscard]] Expected<CeilingReport> solve_ceiling(const CeilingPlan& plan, const CeilingOptions& options = {});

// The profit against hammer prices, for a chart or a table of increments.
// Errors: those of solve_ceiling, ceiling.no-hammer (a price is not more than 0), money.mixed-currencies.
[[nodiscard]] Expected<std::vector<ProfitAtHammer>> profit_at(const CeilingPlan& plan,
                                                              const std::vector<Money>& hammers,
                                                              const CeilingOptions& options = {});

}  // namespace tedge::money
