// What an outcome of a plan rests on: pictures sold, and pictures that were not.
#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>
#include <set>

#include "case_plan.hpp"
#include "tedge/base/text.hpp"
#include "tedge/usecases/costs.hpp"

namespace tedge::usecases {

using casebook::CaseSnapshot;
using casebook::Record;

namespace {

constexpr std::size_t few_comparables = 3;

// Lowest, middle (the lower of two), highest.
Estimate<std::int64_t> spread_of(std::vector<std::int64_t> prices) {
    std::ranges::sort(prices);
    return {prices.front(), prices[(prices.size() - 1) / 2], prices.back()};
}

OutcomeSupport support_of(const std::string& outcome, const std::vector<const Record*>& comparables) {
    OutcomeSupport support{.outcome = outcome};
    std::set<std::string> currencies;
    std::set<std::string> sorts;
    std::vector<std::int64_t> prices;
    std::size_t without_source = 0;
    for (const Record* comparable : comparables) {
        support.comparables.push_back(comparable->id);
        if (!comparable->body.has("source")) ++without_source;
        const auto price = comparable->body.money("price");
        if (comparable->body.flag("unsold")) {
            ++support.unsold;
            continue;
        }
        ++support.sold;
        if (!price) continue;
        currencies.insert(std::string(price->currency.code()));
        sorts.insert(comparable->body.text_or("price_is", "not said"));
        prices.push_back(price->minor);
        support.currency = price->currency;
    }
    if (currencies.size() > 1) {
        support.currency.reset();
        support.doubts.emplace_back("Prices in " + join({currencies.begin(), currencies.end()}, ", ") +
                                    " are not converted: no range is told.");
    } else if (!prices.empty()) {
        support.price_minor = spread_of(std::move(prices));
    }
    if (sorts.size() > 1) {
        support.doubts.emplace_back("The prices are of several sorts: " + join({sorts.begin(), sorts.end()}, ", ") +
                                    ".");
    }
    if (without_source > 0) {
        support.doubts.push_back(
            fmt::format("{} without a source.", counted(without_source, "comparable", "comparables")));
    }
    if (support.sold + support.unsold < few_comparables) {
        support.doubts.push_back(
            comparables.empty()
                ? "It rests on no comparable."
                : fmt::format("It rests on {} only.", counted(comparables.size(), "comparable", "comparables")));
    }
    return support;
}

}  // namespace

std::vector<OutcomeSupport> outcome_support(const CaseSnapshot& snapshot) {
    std::vector<std::string> order;
    std::map<std::string, std::vector<const Record*>> by_outcome;
    const auto add = [&](const std::string& outcome) -> std::vector<const Record*>& {
        if (!by_outcome.contains(outcome)) order.push_back(outcome);
        return by_outcome[outcome];
    };
    for (const auto& outcome : plan_fixed_last(snapshot).value("outcomes", nlohmann::json::array())) {
        const bool is_named = outcome.is_object() && outcome.contains("name") && outcome["name"].is_string();
        if (is_named) add(outcome["name"].get<std::string>());
    }
    for (const Record* comparable : snapshot.of_kind("comparable")) {
        add(comparable->body.text_or("outcome")).push_back(comparable);
    }
    std::vector<OutcomeSupport> support;
    support.reserve(order.size());
    for (const std::string& outcome : order) support.push_back(support_of(outcome, by_outcome[outcome]));
    return support;
}

}  // namespace tedge::usecases
