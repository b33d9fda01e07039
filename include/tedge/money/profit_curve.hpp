// The profit against the hammer price, for a chart that follows the typing: many hammer prices from one set of draws.
//
// All-in price, margin price and expected profit are those of profit_at(), to the penny. Chance of loss and quantiles
// are counted over the draws (everything drawn once, the hammer price is arithmetic): within some thousandths of a
// chance, and for the quantiles within some thousandths of the span between the worst and the best draw. What is shown
// beside a bid, on a card or as a ceiling is asked of solve_ceiling() and profit_at(), which integrate. A plan in which
// nothing is uncertain within an outcome is exact here too. No seed; monotone in the hammer price to the width of what
// is counted.
#pragma once

#include <vector>

#include "tedge/money/ceiling.hpp"

namespace tedge::money {

// One point for each hammer price, in the order given. options.draws are shared between the ways it may go.
// Errors: those of profit_at().
[[nodiscard]] Expected<std::vector<ProfitAtHammer>> profit_curve(const CeilingPlan& plan,
                                                                 const std::vector<Money>& hammers,
                                                                 const CeilingOptions& options = {.draws = 100'000});

// Bids worth charting: at most `count`, ascending, spread evenly from the first of the sale to a quarter above the
// highest ceiling of the report, its bids among them. Without a ceiling up to the mean price. Empty where no bid is
// that low.
[[nodiscard]] std::vector<Money> hammers_to_chart(const CeilingPlan& plan, const CeilingReport& report,
                                                  std::size_t count = 40);

}  // namespace tedge::money
