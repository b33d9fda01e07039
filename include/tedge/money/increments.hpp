// Bid increments: the amounts an auctioneer calls. A table of a sale, never a constant: the auctioneer may vary it.
//
// All amounts are in minor units (pennies) of the currency of the sale.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tedge/base/error.hpp"
#include "tedge/base/money.hpp"

namespace tedge::money {

// One stretch of a table: bids lie in [from, to). Either they stand `step` apart, counted from `from`, or they end in
// one of `endings` within each `within` (20, 50, 80 and 0 within each hundred: 300, 320, 350, 380, 400).
struct IncrementRule {
    std::int64_t from_minor = 0;             // the first bid of the stretch; from 0 the first bid is one step up
    std::optional<std::int64_t> to_minor{};  // where the next stretch begins; none: the stretch has no end
    std::int64_t step_minor = 0;             // 0 where endings are given
    std::vector<std::int64_t> endings_minor{};
    std::int64_t within_minor = 0;
    bool each_decade = false;  // the stretch comes again ten times, a hundred times … higher, with steps as much larger
};

class Increments {
public:
    // Every whole minor unit is a bid: a sale without a table.
    Increments() = default;

    // A table of resources/reference/bid_increment_rules.csv by its name ("common", "fine"); its figures are whole
    // units of the currency. Errors: increments.unknown-table.
    [[nodiscard]] static Expected<Increments> named(std::string_view table, const Currency& currency);

    // Each bid by itself, ascending. Errors: increments.no-bids, increments.not-ascending, increments.not-positive.
    [[nodiscard]] static Expected<Increments> from_bids(std::vector<std::int64_t> bids_minor);

    // Stretches that follow one another without a gap. The end of the last one, where it has an end, is a bid too.
    // Errors: increments.no-bids, increments.bad-rule (values: rule, counted from 0, and reason).
    [[nodiscard]] static Expected<Increments> from_rules(std::vector<IncrementRule> rules);

    // The highest bid not above the amount; none when even the first bid lies above it.
    [[nodiscard]] std::optional<std::int64_t> highest_not_above(std::int64_t amount_minor) const;

    // The lowest bid above the amount; none when the table has ended, or at the end of what Money counts.
    [[nodiscard]] std::optional<std::int64_t> lowest_above(std::int64_t amount_minor) const;

    // The last `count` bids up to the limit, ascending: what is called on the way there.
    [[nodiscard]] std::vector<std::int64_t> last_bids_up_to(std::int64_t limit_minor, std::size_t count) const;

    // True where the published list has ended and its rule is carried on.
    [[nodiscard]] bool is_beyond_published(std::int64_t bid_minor) const;

    // The last bid of a table that ends.
    [[nodiscard]] std::optional<std::int64_t> last_bid() const;

    [[nodiscard]] bool every_penny() const { return bids_.empty() && rules_.empty(); }

private:
    std::vector<std::int64_t> bids_{};
    std::vector<IncrementRule> rules_{};
    std::optional<std::int64_t> published_to_minor_{};
};

}  // namespace tedge::money
