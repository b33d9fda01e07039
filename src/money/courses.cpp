#include "tedge/money/courses.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "money_range.hpp"
#include "profit_simulation.hpp"

namespace tedge::money {

namespace {

Purchase purchase_of(const AlreadySpent& spent) {
    return {exact(spent.all_in.minor) + exact(spent.costs.minor), exact(spent.margin_price.minor),
            exact(spent.vat_recovered.minor)};
}

// A certain sum more, spent before anything is sold: it lies in the profit exactly as the purchase does.
Purchase with_more_spent(Purchase purchase, std::int64_t minor) {
    purchase.all_in += exact(minor);
    return purchase;
}

class CourseStudy {
public:
    CourseStudy(const CeilingPlan& plan, const Purchase& purchase, const CeilingOptions& options)
        : model_(plan), simulation_(model_, options.draws), purchase_(purchase) {}

    [[nodiscard]] Expected<CourseOutlook> outlook(Course course) const;
    [[nodiscard]] Exact mean() const { return simulation_.mean(purchase_); }
    [[nodiscard]] std::int64_t largest_for_profit(const Exact& profit) const;
    [[nodiscard]] std::int64_t largest_for_risk(const Exact& accepted) const;

private:
    ProfitModel model_;
    ProfitSimulation simulation_;
    Purchase purchase_;
};

Expected<CourseOutlook> CourseStudy::outlook(Course course) const {
    const Currency& currency = model_.plan().currency();
    Exact expected_costs = 0;
    Exact factor = 0;
    for (const ExactEstimate& cost : model_.costs()) expected_costs += cost.mean();
    for (const Stratum& stratum : model_.strata()) factor += stratum.weight * stratum.cost_factor.mean();
    const Exact high = model_.cash_needed(Purchase{0, 0, 0});
    const auto [p5, p50, p95] = simulation_.quantiles(purchase_);
    const std::array<Exact, 6> amounts{mean(), p5, p50, p95, expected_costs * factor, high};
    std::vector<Money> shown;
    for (const Exact& amount : amounts) {
        const auto rounded = to_money(amount, currency);
        if (!rounded) return pass_on(rounded);
        shown.push_back(*rounded);
    }
    return CourseOutlook{course,   shown[0], simulation_.loss(purchase_).value(), {shown[1], shown[2], shown[3]},
                         shown[4], shown[5]};
}

std::int64_t CourseStudy::largest_for_profit(const Exact& profit) const {
    return largest_that(search_limit(model_.mean_price() + purchase_.vat_recovered - profit), [&](std::int64_t more) {
        return simulation_.mean(with_more_spent(purchase_, more)) >= profit;
    });
}

std::int64_t CourseStudy::largest_for_risk(const Exact& accepted) const {
    return largest_that(search_limit(model_.highest_price() + purchase_.vat_recovered), [&](std::int64_t more) {
        const Purchase purchase = with_more_spent(purchase_, more);
        if (accepted != 0) return !simulation_.loss(purchase).exceeds(accepted);
        return std::ranges::none_of(model_.strata(),
                                    [&](const Stratum& s) { return model_.worst_profit(s, purchase) < 0; });
    });
}

Expected<void> check_spent(const CeilingPlan& plan, const AlreadySpent& spent) {
    const std::pair<const char*, const Money*> amounts[] = {{"all_in", &spent.all_in},
                                                            {"margin_price", &spent.margin_price},
                                                            {"vat_recovered", &spent.vat_recovered},
                                                            {"costs", &spent.costs}};
    for (const auto& [field, amount] : amounts) {
        if (const auto same = subtract(*amount, Money{0, plan.currency()}); !same) {
            auto error = same.error();
            error.values["field"] = field;
            return std::unexpected(std::move(error));
        }
        if (amount->minor >= 0) continue;
        return fail("courses.negative",
                    fmt::format("What was spent cannot be negative: {} is {}.", field, to_display_text(*amount)),
                    "Enter what was paid.", {{"field", field}, {"reason", "is negative"}});
    }
    return {};
}

CeilingPlan sold_as(const CeilingPlan& plan, const AsFound& found) {
    CeilingPlan sold = plan;
    sold.as_found = found;
    return *as_found_plan(sold);
}

void add_limits(const CeilingPlan& plan, const AlreadySpent& spent, const std::optional<Exact>& stopping,
                const CeilingOptions& options, CoursesReport& report) {
    CeilingPlan without_costs = plan;
    without_costs.costs.clear();
    const CourseStudy study(without_costs, purchase_of(spent), options);
    const auto money = [&](std::int64_t minor) { return Money{minor, plan.currency()}; };
    const Target& target = plan.target;
    SpendingLimits& limits = report.may_be_spent;
    if (target.profit_minor) limits.target = money(study.largest_for_profit(exact(*target.profit_minor)));
    if (target.loss_probability && *target.loss_probability < Decimal::from_integer(1)) {
        limits.risk = money(study.largest_for_risk(exact(*target.loss_probability)));
    }
    if (target.cash_minor) {
        limits.cash = money(std::max<std::int64_t>(0, *target.cash_minor - spent.all_in.minor - spent.costs.minor));
    }
    if (stopping) limits.stop = money(study.largest_for_profit(*stopping));
    for (const auto* limit : {&limits.target, &limits.risk, &limits.cash, &limits.stop}) {
        if (*limit && (!report.lowest || (*limit)->minor < report.lowest->minor)) report.lowest = **limit;
    }
}

void add_remarks(const CeilingPlan& plan, bool says_as_it_stands, CoursesReport& report) {
    if (!says_as_it_stands && !plan.as_found) {
        report.remarks.push_back({"courses.stopping-not-said",
                                  "Nobody has said what it would bring as it stands or as found, so stopping cannot be "
                                  "weighed."});
    }
    if (!report.lowest) {
        report.remarks.push_back({"courses.no-limit", "Nothing in the plan limits what may still be spent."});
        return;
    }
    const CourseOutlook& going_on = report.courses.front();
    if (going_on.still_to_spend.minor > report.lowest->minor) {
        report.remarks.push_back(
            {"courses.plan-exceeds-limit",
             fmt::format("The plan expects to spend {} more, the lowest limit is {}.",
                         to_display_text(going_on.still_to_spend), to_display_text(*report.lowest))});
    } else if (going_on.still_to_spend_high.minor > report.lowest->minor) {
        report.remarks.push_back(
            {"courses.high-exceeds-limit",
             fmt::format("Should every cost come to its high value, {}, the lowest limit, {}, is "
                         "passed.",
                         to_display_text(going_on.still_to_spend_high), to_display_text(*report.lowest))});
    }
}

}  // namespace

std::string_view course_name(Course course) {
    constexpr std::array<std::string_view, 3> names{"go on", "sell as it stands", "sell as found"};
    return names.at(static_cast<std::size_t>(course));
}

Expected<PlansBeside> plans_beside_one_another(const std::vector<NamedPlan>& plans, const std::optional<Money>& hammer,
                                               const CeilingOptions& options) {
    PlansBeside beside{.hammer = hammer};
    std::vector<NamedPlan> all = plans;
    const auto with_as_found =
        std::ranges::find_if(plans, [](const NamedPlan& named) { return named.plan.as_found.has_value(); });
    if (with_as_found != plans.end()) {
        all.push_back({"as found", *as_found_plan(with_as_found->plan)});
    } else {
        beside.remarks.push_back({"courses.as-found-not-said", "No plan says what the picture would bring as found."});
    }
    const auto in_plan = [](const Error& error, const std::string& name) {
        Error told = error;
        told.values["plan"] = name;
        return std::unexpected(std::move(told));
    };
    for (const NamedPlan& named : all) {
        auto report = solve_ceiling(named.plan, options);
        if (!report) return in_plan(report.error(), named.name);
        if (!hammer && beside.plans.empty() && report->bid && report->bid->minor > 0) beside.hammer = report->bid;
        beside.plans.push_back({named.name, *std::move(report)});
    }
    for (std::size_t i = 0; beside.hammer && i < all.size(); ++i) {
        const auto at = profit_at(all[i].plan, {*beside.hammer}, options);
        if (!at) return in_plan(at.error(), all[i].name);
        beside.plans[i].at_hammer = at->front();
    }
    return beside;
}

Expected<CoursesReport> weigh_courses(const CeilingPlan& plan, const AlreadySpent& spent,
                                      const std::optional<AsFound>& as_it_stands, const CeilingOptions& options) {
    if (const auto sound = check(plan); !sound) return pass_on(sound);
    if (const auto sound = check_spent(plan, spent); !sound) return pass_on(sound);
    std::vector<std::pair<Course, CeilingPlan>> ways{{Course::go_on, plan}};
    if (as_it_stands) ways.emplace_back(Course::sell_as_it_stands, sold_as(plan, *as_it_stands));
    if (plan.as_found) ways.emplace_back(Course::sell_as_found, *as_found_plan(plan));
    CoursesReport report;
    std::optional<Exact> best;
    std::optional<Exact> stopping;
    for (const auto& [course, way] : ways) {
        if (const auto sound = check(way); !sound) return pass_on(sound);
        const CourseStudy study(way, purchase_of(spent), options);
        const auto outlook = study.outlook(course);
        if (!outlook) return pass_on(outlook);
        report.courses.push_back(*outlook);
        const Exact mean = study.mean();
        if (course != Course::go_on && (!stopping || mean > *stopping)) stopping = mean;
        if (best && mean <= *best) continue;
        best = mean;
        report.best = course;
    }
    add_limits(plan, spent, stopping, options, report);
    add_remarks(plan, as_it_stands.has_value(), report);
    return report;
}

}  // namespace tedge::money
