#include "tedge/money/ceiling.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "profit_simulation.hpp"
#include "tedge/base/number_text.hpp"

namespace tedge::money {

namespace {

class CeilingSolver {
public:
    CeilingSolver(const CeilingPlan& plan, const CeilingOptions& options)
        : model_(plan), simulation_(model_, options.draws) {}

    [[nodiscard]] Expected<CeilingReport> report() const;
    [[nodiscard]] Expected<ProfitAtHammer> profit_at(std::int64_t hammer_minor) const;

private:
    [[nodiscard]] const CeilingPlan& plan() const { return model_.plan(); }
    [[nodiscard]] Money money(std::int64_t minor) const { return {minor, plan().sale.currency}; }

    [[nodiscard]] std::int64_t target_hammer(const Exact& profit) const;
    [[nodiscard]] std::int64_t risk_hammer(const Exact& accepted) const;
    [[nodiscard]] std::int64_t cash_hammer(const Exact& cash) const;
    [[nodiscard]] bool never_loses(const Purchase& purchase) const;
    [[nodiscard]] Ceiling ceiling(Limit limit, std::int64_t hammer) const;
    [[nodiscard]] Remark reason(Limit limit, std::int64_t hammer) const;
    void add_remarks(CeilingReport& report) const;

    ProfitModel model_;
    ProfitSimulation simulation_;
};

std::int64_t CeilingSolver::target_hammer(const Exact& profit) const {
    return largest_that(model_.hammer_limit(model_.mean_price() - profit),
                        [&](std::int64_t hammer) { return simulation_.mean(model_.purchase_at(hammer)) >= profit; });
}

bool CeilingSolver::never_loses(const Purchase& purchase) const {
    return std::ranges::none_of(model_.strata(),
                                [&](const Stratum& s) { return model_.worst_profit(s, purchase) < 0; });
}

std::int64_t CeilingSolver::risk_hammer(const Exact& accepted) const {
    return largest_that(model_.hammer_limit(model_.highest_price()), [&](std::int64_t hammer) {
        const Purchase purchase = model_.purchase_at(hammer);
        return accepted == 0 ? never_loses(purchase) : !simulation_.loss(purchase).exceeds(accepted);
    });
}

std::int64_t CeilingSolver::cash_hammer(const Exact& cash) const {
    return largest_that(model_.hammer_limit(cash),
                        [&](std::int64_t hammer) { return model_.cash_needed(model_.purchase_at(hammer)) <= cash; });
}

Remark CeilingSolver::reason(Limit limit, std::int64_t hammer) const {
    if (hammer > 0) {
        const auto first = plan().sale.increments.lowest_above(0);
        const std::string bid = to_display_text(money(first.value_or(0)));
        return {"ceiling.below-first-bid",
                fmt::format("The first bid of the sale, {}, lies above this limit.", bid),
                {{"first_bid", bid}}};
    }
    switch (limit) {
        case Limit::target:
            return {"ceiling.target-out-of-reach",
                    "Even at the smallest hammer price the expected profit stays below the "
                    "profit wanted."};
        case Limit::risk:
            return {"ceiling.risk-out-of-reach",
                    "Even at the smallest hammer price the chance of loss is above the one "
                    "accepted."};
        case Limit::cash:
            break;
    }
    return {"ceiling.cash-out-of-reach",
            "The costs at their high value and the smallest price come to more than the cash "
            "there is."};
}

Ceiling CeilingSolver::ceiling(Limit limit, std::int64_t hammer) const {
    const auto bid = plan().sale.increments.highest_not_above(hammer);
    if (bid) return {money(hammer), money(*bid)};
    return {money(hammer), money(0), reason(limit, hammer)};
}

void CeilingSolver::add_remarks(CeilingReport& report) const {
    const Increments& increments = plan().sale.increments;
    if (model_.shade() < 1) {
        const std::string percent = format_fixed(100.0 * Exact(1 - model_.shade()).get_d(), 1);
        report.remarks.push_back(
            {"ceiling.shade",
             fmt::format("Each price is lowered by {} %: whoever wins against serious bidders has most likely judged "
                         "highest of them all.",
                         percent),
             {{"percent", percent}}});
    }
    if (increments.every_penny()) {
        report.remarks.push_back(
            {"ceiling.no-increments", "No increments are given, so every amount counts as a bid."});
    }
    if (!report.bid) {
        report.remarks.push_back({"ceiling.no-limit", "Nothing in the plan limits the bid."});
        return;
    }
    if (increments.is_beyond_published(report.bid->minor)) {
        report.remarks.push_back({"ceiling.increments-continued",
                                  "The bid lies beyond the published increments, whose rule is carried on."});
    }
    if (report.bid->minor > 0 && !increments.lowest_above(report.bid->minor)) {
        report.remarks.push_back({"ceiling.increments-ended", "The bid is the last of the increments that are given."});
    }
}

Expected<ProfitAtHammer> CeilingSolver::profit_at(std::int64_t hammer) const {
    const Purchase purchase = model_.purchase_at(hammer);
    const Currency& currency = plan().currency();
    const auto [p5, p50, p95] = simulation_.quantiles(purchase);
    const std::array<Exact, 6> amounts{
        purchase.all_in, purchase.margin_price, simulation_.mean(purchase), p5, p50, p95};
    std::vector<Money> shown;
    for (const Exact& amount : amounts) {
        const auto rounded = to_money(amount, currency);
        if (!rounded) return pass_on(rounded);
        shown.push_back(*rounded);
    }
    return ProfitAtHammer{money(hammer),
                          shown[0],
                          shown[1],
                          shown[2],
                          simulation_.loss(purchase).value(),
                          ProfitQuantiles{shown[3], shown[4], shown[5]}};
}

Expected<CeilingReport> CeilingSolver::report() const {
    CeilingReport report;
    const Target& target = plan().target;
    if (target.profit_minor) report.target = ceiling(Limit::target, target_hammer(exact(*target.profit_minor)));
    // A chance of loss of 1 is any chance: no limit.
    if (target.loss_probability && *target.loss_probability < Decimal::from_integer(1)) {
        report.risk = ceiling(Limit::risk, risk_hammer(exact(*target.loss_probability)));
    }
    if (target.cash_minor) report.cash = ceiling(Limit::cash, cash_hammer(exact(*target.cash_minor)));
    const std::pair<Limit, const std::optional<Ceiling>*> ceilings[] = {
        {Limit::target, &report.target}, {Limit::risk, &report.risk}, {Limit::cash, &report.cash}};
    const Ceiling* lowest = nullptr;
    for (const auto& [limit, found] : ceilings) {
        if (!*found || (lowest && lowest->hammer.minor <= (*found)->hammer.minor)) continue;
        lowest = &**found;
        report.binding = limit;
        report.bid = lowest->bid;
    }
    add_remarks(report);
    if (!lowest || lowest->bid.minor == 0) return report;
    const auto at_bid = profit_at(lowest->bid.minor);
    if (!at_bid) return pass_on(at_bid);
    report.at_bid = *at_bid;
    return report;
}

}  // namespace

std::string_view limit_name(Limit limit) {
    constexpr std::array<std::string_view, 3> names{"target", "risk", "cash"};
    return names.at(static_cast<std::size_t>(limit));
}

Expected<CeilingReport> solve_ceiling(const CeilingPlan& plan, const CeilingOptions& options) {
    if (const auto sound = check(plan); !sound) return pass_on(sound);
    return CeilingSolver(plan, options).report();
}

Expected<std::vector<ProfitAtHammer>> profit_at(const CeilingPlan& plan, const std::vector<Money>& hammers,
                                                const CeilingOptions& options) {
    if (const auto sound = check(plan); !sound) return pass_on(sound);
    const CeilingSolver solver(plan, options);
    std::vector<ProfitAtHammer> points;
    for (const Money& hammer : hammers) {
        if (hammer.minor <= 0) return fail("ceiling.no-hammer", "A hammer price must be more than 0.", "Check it.");
        if (const auto same = subtract(hammer, Money{0, plan.sale.currency}); !same) return pass_on(same);
        const auto point = solver.profit_at(hammer.minor);
        if (!point) return pass_on(point);
        points.push_back(*point);
    }
    return points;
}

std::optional<Money> binding_hammer(const CeilingReport& report) {
    if (!report.binding) return std::nullopt;
    for (const auto& [limit, ceiling] : {std::pair{Limit::target, report.target}, std::pair{Limit::risk, report.risk},
                                         std::pair{Limit::cash, report.cash}}) {
        if (limit == *report.binding && ceiling) return ceiling->hammer;
    }
    return std::nullopt;
}

}  // namespace tedge::money
