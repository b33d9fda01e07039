#include "tedge/money/profit_curve.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "money_range.hpp"
#include "profit_simulation.hpp"
#include "sampled_profit.hpp"

namespace tedge::money {

namespace {

bool is_all_certain(const ProfitModel& model) {
    return std::ranges::all_of(model.strata(), [&](const Stratum& stratum) { return model.is_certain(stratum); });
}

Exact to_exact(double minor) {
    return exact(static_cast<std::int64_t>(std::llround(minor)));
}

Expected<ProfitAtHammer> counted_point(const ProfitSimulation& simulation, SampledProfit& sampled,
                                       const Purchase& purchase, const Money& hammer, const Currency& currency) {
    const SampledProfit::Figures figures = sampled.at(purchase);
    const std::array<Exact, 6> amounts{purchase.all_in,      purchase.margin_price, simulation.mean(purchase),
                                       to_exact(figures.p5), to_exact(figures.p50), to_exact(figures.p95)};
    std::vector<Money> shown;
    for (const Exact& amount : amounts) {
        const auto rounded = to_money(amount, currency);
        if (!rounded) return pass_on(rounded);
        shown.push_back(*rounded);
    }
    return ProfitAtHammer{hammer,
                          shown[0],
                          shown[1],
                          shown[2],
                          std::clamp(figures.loss, 0.0, 1.0),
                          ProfitQuantiles{shown[3], shown[4], shown[5]}};
}

std::int64_t charted_up_to(const CeilingPlan& plan, const CeilingReport& report) {
    std::int64_t highest = 0;
    for (const auto* ceiling : {&report.target, &report.risk, &report.cash}) {
        if (*ceiling) highest = std::max(highest, (*ceiling)->hammer.minor);
    }
    if (highest == 0) {
        const ProfitModel model(plan);
        highest = model.hammer_limit(model.mean_price());
    }
    return std::min(highest + highest / 4, largest_minor);
}

}  // namespace

Expected<std::vector<ProfitAtHammer>> profit_curve(const CeilingPlan& plan, const std::vector<Money>& hammers,
                                                   const CeilingOptions& options) {
    if (const auto sound = check(plan); !sound) return pass_on(sound);
    const ProfitModel model(plan);
    if (is_all_certain(model)) return profit_at(plan, hammers, options);
    // The mean asks only for tables of the prices; no draws of its own.
    const ProfitSimulation simulation(model, 1);
    SampledProfit sampled(model, simulation, options.draws);
    std::vector<ProfitAtHammer> points;
    for (const Money& hammer : hammers) {
        if (hammer.minor <= 0) return fail("ceiling.no-hammer", "A hammer price must be more than 0.", "Check it.");
        if (const auto same = subtract(hammer, Money{0, plan.sale.currency}); !same) return pass_on(same);
        const auto point = counted_point(simulation, sampled, model.purchase_at(hammer.minor), hammer, plan.currency());
        if (!point) return pass_on(point);
        points.push_back(*point);
    }
    return points;
}

std::vector<Money> hammers_to_chart(const CeilingPlan& plan, const CeilingReport& report, std::size_t count) {
    const std::int64_t top = charted_up_to(plan, report);
    const Increments& increments = plan.sale.increments;
    std::vector<std::int64_t> bids;
    const auto add = [&](std::int64_t amount) {
        if (const auto bid = increments.highest_not_above(amount)) bids.push_back(*bid);
    };
    for (const auto* ceiling : {&report.target, &report.risk, &report.cash}) {
        if (*ceiling && (*ceiling)->bid.minor > 0 && bids.size() < count) bids.push_back((*ceiling)->bid.minor);
    }
    const auto spread = static_cast<std::int64_t>(count > bids.size() ? count - bids.size() : 0);
    for (std::int64_t i = 1; i <= spread; ++i) add(top / spread * i);
    std::ranges::sort(bids);
    bids.erase(std::ranges::unique(bids).begin(), bids.end());
    std::vector<Money> hammers;
    hammers.reserve(bids.size());
    for (const std::int64_t bid : bids) hammers.push_back({bid, plan.sale.currency});
    return hammers;
}

}  // namespace tedge::money
