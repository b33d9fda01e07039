#include "tedge/money/increments.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "embedded_tables.hpp"
#include "money_range.hpp"
#include "reference_cells.hpp"
#include "tedge/base/text.hpp"

namespace tedge::money {

namespace {

// One stretch at one power of ten; bids in [from, to).
struct Stretch {
    std::int64_t from;
    std::int64_t to;
    std::int64_t step;
    std::int64_t within;
    const std::vector<std::int64_t>* endings;
    std::int64_t scale;
};

Stretch stretch_of(const IncrementRule& rule, std::int64_t scale, bool is_last) {
    const bool closed_end = is_last && rule.to_minor && !rule.each_decade;
    const std::int64_t end = rule.to_minor ? *rule.to_minor * scale + (closed_end ? 1 : 0) : largest_minor + 1;
    return {rule.from_minor * scale, std::min(end, largest_minor + 1),
            rule.step_minor * scale, rule.within_minor * scale,
            &rule.endings_minor,     scale};
}

std::optional<std::int64_t> highest_by_step(const Stretch& s, std::int64_t top) {
    const std::int64_t bid = s.from + (top - s.from) / s.step * s.step;
    return bid > 0 ? std::optional(bid) : std::nullopt;
}

std::optional<std::int64_t> highest_by_ending(const Stretch& s, std::int64_t top) {
    for (std::int64_t block = top / s.within; block >= 0 && block >= top / s.within - 1; --block) {
        for (auto ending = s.endings->rbegin(); ending != s.endings->rend(); ++ending) {
            const std::int64_t bid = block * s.within + *ending * s.scale;
            if (bid <= top && bid >= s.from && bid > 0) return bid;
        }
    }
    return std::nullopt;
}

std::optional<std::int64_t> highest_in(const Stretch& s, std::int64_t amount) {
    const std::int64_t top = std::min(amount, s.to - 1);
    if (top < s.from) return std::nullopt;
    return s.step > 0 ? highest_by_step(s, top) : highest_by_ending(s, top);
}

std::optional<std::int64_t> lowest_by_step(const Stretch& s, std::int64_t bottom) {
    const std::int64_t bid = s.from + (bottom - s.from + s.step - 1) / s.step * s.step;
    return bid < s.to ? std::optional(bid) : std::nullopt;
}

std::optional<std::int64_t> lowest_by_ending(const Stretch& s, std::int64_t bottom) {
    for (std::int64_t block = bottom / s.within; block <= bottom / s.within + 1; ++block) {
        for (const std::int64_t ending : *s.endings) {
            const std::int64_t bid = block * s.within + ending * s.scale;
            if (bid >= bottom && bid < s.to) return bid;
        }
    }
    return std::nullopt;
}

std::optional<std::int64_t> lowest_in(const Stretch& s, std::int64_t amount) {
    const std::int64_t bottom = std::max({amount + 1, s.from, std::int64_t{1}});
    if (bottom >= s.to) return std::nullopt;
    return s.step > 0 ? lowest_by_step(s, bottom) : lowest_by_ending(s, bottom);
}

// Calls `visit` with every stretch of the table, each decade of a repeating one by itself.
template <class Visit>
void for_each_stretch(const std::vector<IncrementRule>& rules, Visit visit) {
    for (const IncrementRule& rule : rules) {
        const std::int64_t highest_scale = rule.each_decade ? largest_minor / rule.from_minor : 1;
        for (std::int64_t scale = 1; scale <= highest_scale; scale *= 10) {
            visit(stretch_of(rule, scale, &rule == &rules.back()));
        }
    }
}

std::unexpected<Error> bad_rule(std::size_t at, std::string reason) {
    return fail("increments.bad-rule", fmt::format("Rule {} of the increments cannot be used: {}.", at + 1, reason),
                "Mend the rule, or name a table.", {{"rule", fmt::format("{}", at)}, {"reason", reason}});
}

std::string fault_of_endings(const IncrementRule& rule) {
    if (rule.endings_minor.empty()) return "it has neither a step nor endings";
    if (rule.within_minor <= 0) return "the endings lie within nothing";
    if (!std::ranges::is_sorted(rule.endings_minor, std::less_equal<>())) return "the endings do not ascend";
    if (rule.endings_minor.front() < 0) return "an ending is negative";
    if (rule.endings_minor.back() >= rule.within_minor) return "an ending is as large as what it lies within";
    return {};
}

std::string fault_of(const IncrementRule& rule) {
    if (rule.from_minor < 0 || rule.from_minor > largest_minor) return "it begins below zero or too high";
    if (rule.to_minor && (*rule.to_minor <= rule.from_minor || *rule.to_minor > largest_minor)) {
        return "it ends where it begins, before, or too high";
    }
    if (rule.each_decade && (!rule.to_minor || rule.from_minor == 0)) return "only a stretch with two ends can repeat";
    if (rule.each_decade && *rule.to_minor > 10 * rule.from_minor) return "what repeats spans more than a decade";
    if (rule.each_decade && std::max(rule.step_minor, rule.within_minor) > *rule.to_minor)
        return "its steps pass its end";
    if (rule.step_minor < 0 || rule.step_minor > largest_minor) return "the step is negative or too large";
    if (rule.within_minor > largest_minor) return "what the endings lie within is too large";
    if (rule.step_minor > 0 && !rule.endings_minor.empty()) return "it has a step and endings";
    return rule.step_minor > 0 ? std::string() : fault_of_endings(rule);
}

IncrementRule rule_of(const Table& table, std::size_t row, const Currency& currency) {
    IncrementRule rule{.from_minor = amount_cell(table, row, "from", currency),
                       .to_minor = optional_amount_cell(table, row, "to", currency),
                       .step_minor = optional_amount_cell(table, row, "step", currency).value_or(0),
                       .within_minor = optional_amount_cell(table, row, "within", currency).value_or(0),
                       .each_decade = table.cell(row, "each_decade") == "yes"};
    if (rule.step_minor == 0) {
        for (const std::string_view ending : split(table.cell(row, "endings"), ' ')) {
            rule.endings_minor.push_back(parse_money(ending, currency).value().minor);
        }
    }
    return rule;
}

}  // namespace

Expected<Increments> Increments::named(std::string_view name, const Currency& currency) {
    const Table table = reference_table(embedded::bid_increment_rules_csv);
    Increments increments;
    for (std::size_t row = 0; row < table.row_count(); ++row) {
        if (table.cell(row, "table") != name) continue;
        increments.rules_.push_back(rule_of(table, row, currency));
        increments.published_to_minor_ = optional_amount_cell(table, row, "published_to", currency);
    }
    if (!increments.rules_.empty()) return increments;
    return fail("increments.unknown-table", fmt::format("There is no table of increments called \"{}\".", name),
                "Use \"common\" or \"fine\", or list the bids of the sale.", {{"table", std::string(name)}});
}

Expected<Increments> Increments::from_bids(std::vector<std::int64_t> bids) {
    if (bids.empty()) return fail("increments.no-bids", "The list of bids is empty.", "Write at least one bid.");
    if (bids.front() <= 0) return fail("increments.not-positive", "A bid must be more than nothing.", "Remove it.");
    if (!std::ranges::is_sorted(bids, std::less_equal<>())) {
        return fail("increments.not-ascending", "The bids do not ascend.", "Put each bid once, the lowest first.");
    }
    Increments increments;
    increments.bids_ = std::move(bids);
    return increments;
}

Expected<Increments> Increments::from_rules(std::vector<IncrementRule> rules) {
    if (rules.empty()) return fail("increments.no-bids", "The list of rules is empty.", "Write at least one rule.");
    for (std::size_t i = 0; i < rules.size(); ++i) {
        if (std::string fault = fault_of(rules[i]); !fault.empty()) return bad_rule(i, std::move(fault));
        if (i > 0 && rules[i - 1].to_minor != rules[i].from_minor) {
            return bad_rule(i, "it does not begin where the one before it ends");
        }
    }
    Increments increments;
    increments.rules_ = std::move(rules);
    return increments;
}

std::optional<std::int64_t> Increments::highest_not_above(std::int64_t amount) const {
    if (amount <= 0) return std::nullopt;
    if (every_penny()) return std::min(amount, largest_minor);
    if (!bids_.empty()) {
        const auto above = std::ranges::upper_bound(bids_, amount);
        return above == bids_.begin() ? std::nullopt : std::optional(*std::prev(above));
    }
    std::optional<std::int64_t> best;
    for_each_stretch(rules_, [&](const Stretch& s) { best = std::max(best, highest_in(s, amount)); });
    return best;
}

std::optional<std::int64_t> Increments::lowest_above(std::int64_t amount) const {
    if (amount >= largest_minor) return std::nullopt;  // nothing above can be counted
    if (every_penny()) return std::max<std::int64_t>(amount, 0) + 1;
    if (!bids_.empty()) {
        const auto above = std::ranges::upper_bound(bids_, amount);
        return above == bids_.end() ? std::nullopt : std::optional(*above);
    }
    std::optional<std::int64_t> best;
    for_each_stretch(rules_, [&](const Stretch& s) {
        const auto bid = lowest_in(s, amount);
        if (bid && (!best || *bid < *best)) best = bid;
    });
    return best;
}

std::vector<std::int64_t> Increments::last_bids_up_to(std::int64_t limit, std::size_t count) const {
    std::vector<std::int64_t> bids;
    auto bid = highest_not_above(limit);
    while (bid && bids.size() < count) {
        bids.push_back(*bid);
        bid = highest_not_above(*bid - 1);
    }
    std::ranges::reverse(bids);
    return bids;
}

bool Increments::is_beyond_published(std::int64_t bid) const {
    return published_to_minor_ && bid > *published_to_minor_;
}

std::optional<std::int64_t> Increments::last_bid() const {
    if (!bids_.empty()) return bids_.back();
    if (rules_.empty() || !rules_.back().to_minor || rules_.back().each_decade) return std::nullopt;
    return highest_not_above(*rules_.back().to_minor);
}

}  // namespace tedge::money
