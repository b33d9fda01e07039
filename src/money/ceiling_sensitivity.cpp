#include "tedge/money/ceiling_sensitivity.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace tedge::money {

namespace {

class SensitivityStudy {
public:
    SensitivityStudy(const CeilingPlan& plan, const CeilingOptions& options) : plan_(plan), options_(options) {}

    // `estimate` is one of plan_, set to either end for a moment and then put back.
    template <class T>
    void vary(std::string field, const std::string& name, Estimate<T>& estimate) {
        if (estimate.is_certain() || problem_) return;
        const Estimate<T> guessed = estimate;
        estimate = Estimate<T>::certain(guessed.low);
        const auto at_low = lowest_ceiling();
        estimate = Estimate<T>::certain(guessed.high);
        const auto at_high = lowest_ceiling();
        estimate = guessed;
        if (at_low && at_high) swings_.push_back({std::move(field), name, *at_low, *at_high});
    }

    void vary_all();
    Expected<std::vector<CeilingSwing>> widest_first();

private:
    std::optional<Money> lowest_ceiling();

    CeilingPlan plan_;
    CeilingOptions options_;
    std::vector<CeilingSwing> swings_;
    std::optional<Error> problem_;
};

std::optional<Money> SensitivityStudy::lowest_ceiling() {
    const auto report = solve_ceiling(plan_, options_);
    if (!report) {
        problem_ = report.error();
        return std::nullopt;
    }
    return binding_hammer(*report);
}

void SensitivityStudy::vary_all() {
    for (std::size_t i = 0; i < plan_.outcomes.size(); ++i) {
        Outcome& outcome = plan_.outcomes[i];
        vary(fmt::format("outcomes[{}].price", i), outcome.name, outcome.price_minor);
        vary(fmt::format("outcomes[{}].months", i), outcome.name, outcome.months);
    }
    for (std::size_t i = 0; i < plan_.conditions.size(); ++i) {
        Condition& condition = plan_.conditions[i];
        vary(fmt::format("conditions[{}].price_factor", i), condition.name, condition.price_factor);
        vary(fmt::format("conditions[{}].cost_factor", i), condition.name, condition.cost_factor);
    }
    for (std::size_t i = 0; i < plan_.costs.size(); ++i) {
        vary(fmt::format("costs[{}].amount", i), plan_.costs[i].name, plan_.costs[i].amount_minor);
    }
}

Expected<std::vector<CeilingSwing>> SensitivityStudy::widest_first() {
    if (problem_) return std::unexpected(*problem_);
    std::ranges::stable_sort(swings_, std::greater<>(), &CeilingSwing::width_minor);
    return std::move(swings_);
}

}  // namespace

Expected<std::vector<CeilingSwing>> ceiling_sensitivity(const CeilingPlan& plan, const CeilingOptions& options) {
    SensitivityStudy study(plan, options);
    study.vary_all();
    return study.widest_first();
}

}  // namespace tedge::money
