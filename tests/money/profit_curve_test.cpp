// The chart against the integrated figures, which are held elsewhere against closed forms and plain integration.
#include "tedge/money/profit_curve.hpp"

#include <catch2/catch.hpp>

#include "random_plans.hpp"

using namespace tedge;
using namespace tedge::money;
using namespace tedge::test;

namespace {

std::vector<Money> forty_hammers() {
    std::vector<Money> hammers;
    for (std::int64_t i = 1; i <= 40; ++i) hammers.push_back({i * 30'000, pounds()});
    return hammers;
}

double pounds_of(const Money& money) {
    return static_cast<double>(money.minor) / 100.0;
}

}  // namespace

TEST_CASE("the chart agrees with the integrated figures at every hammer price") {
    const CeilingPlan plan = plan_of(two_outcomes);
    const auto curve = profit_curve(plan, forty_hammers()).value();
    const auto exact = profit_at(plan, forty_hammers()).value();
    REQUIRE(curve.size() == exact.size());
    constexpr double span = 30'000.0;  // between the worst and the best draw, in pounds
    for (std::size_t i = 0; i < curve.size(); ++i) {
        INFO(text(curve[i].hammer));
        CHECK(curve[i].hammer == exact[i].hammer);
        CHECK(curve[i].all_in == exact[i].all_in);
        CHECK(curve[i].margin_price == exact[i].margin_price);
        CHECK(curve[i].expected_profit == exact[i].expected_profit);
        CHECK(curve[i].loss_probability == Approx(exact[i].loss_probability).margin(0.002));
        CHECK(pounds_of(curve[i].quantiles.p5) == Approx(pounds_of(exact[i].quantiles.p5)).margin(0.003 * span));
        CHECK(pounds_of(curve[i].quantiles.p50) == Approx(pounds_of(exact[i].quantiles.p50)).margin(0.003 * span));
        CHECK(pounds_of(curve[i].quantiles.p95) == Approx(pounds_of(exact[i].quantiles.p95)).margin(0.003 * span));
    }
}

TEST_CASE("random plans: the chance of loss of the chart is the integrated one") {
    RandomPlans random(23);
    for (int i = 0; i < 25; ++i) {
        INFO("plan " << i);
        const CeilingPlan plan = random.plan();
        const std::vector<Money> hammers{{90'000, pounds()}, {400'000, pounds()}, {1'300'000, pounds()}};
        const auto curve = profit_curve(plan, hammers).value();
        const auto exact = profit_at(plan, hammers).value();
        for (std::size_t at = 0; at < hammers.size(); ++at) {
            CHECK(curve[at].loss_probability == Approx(exact[at].loss_probability).margin(0.004));
            CHECK(curve[at].expected_profit == exact[at].expected_profit);
        }
    }
}

TEST_CASE("in the chart a higher hammer price is never better") {
    const auto curve = profit_curve(plan_of(two_outcomes), forty_hammers()).value();
    for (std::size_t i = 1; i < curve.size(); ++i) {
        CHECK(curve[i].loss_probability >= curve[i - 1].loss_probability);
        CHECK(curve[i].expected_profit.minor <= curve[i - 1].expected_profit.minor);
        CHECK(curve[i].quantiles.p5.minor <= curve[i - 1].quantiles.p5.minor);
        CHECK(curve[i].quantiles.p50.minor <= curve[i - 1].quantiles.p50.minor);
        CHECK(curve[i].quantiles.p95.minor <= curve[i - 1].quantiles.p95.minor);
    }
}

TEST_CASE("a certain plan is charted exactly, and every chart twice alike") {
    const CeilingPlan plan = plan_of(certain);
    const auto curve = profit_curve(plan, {gbp("8500")}).value();
    CHECK(text(curve[0].expected_profit) == "4458.33");
    CHECK(text(curve[0].quantiles.p5) == "4458.33");
    CHECK(curve[0].loss_probability == 0.0);
    const auto first = profit_curve(plan_of(two_outcomes), {gbp("1400")}).value();
    const auto second = profit_curve(plan_of(two_outcomes), {gbp("1400")}).value();
    CHECK(first[0].quantiles.p5 == second[0].quantiles.p5);
    CHECK(first[0].loss_probability == second[0].loss_probability);
}

TEST_CASE("what is charted are bids of the sale, those of the ceilings among them") {
    const CeilingPlan plan = plan_of(two_outcomes);
    const CeilingReport report = solve_ceiling(plan).value();
    const auto hammers = hammers_to_chart(plan, report, 12);
    CHECK(hammers.size() <= 12);
    CHECK(hammers.size() > 6);
    for (const Money& hammer : hammers) {
        CHECK(plan.sale.increments.highest_not_above(hammer.minor) == hammer.minor);
    }
    CHECK(std::ranges::is_sorted(hammers, {}, &Money::minor));
    for (const auto* ceiling : {&report.target, &report.risk, &report.cash}) {
        if ((*ceiling)->bid.minor > 0) CHECK(std::ranges::find(hammers, (*ceiling)->bid) != hammers.end());
    }
    CHECK(hammers_to_chart(plan, report, 0).empty());
    // nothing limits the bid: up to what the picture is worth
    const CeilingPlan open = plan_of(exchanged(certain, R"({"profit": 4000})", "{}"));
    CHECK(hammers_to_chart(open, solve_ceiling(open).value()).back().minor > gbp("20000").minor);
}

TEST_CASE("hammer prices that cannot be charted are refused") {
    CHECK(profit_curve(plan_of(two_outcomes), {gbp("0")}).error().code == "ceiling.no-hammer");
    CHECK(profit_curve(plan_of(certain), {gbp("0")}).error().code == "ceiling.no-hammer");
    CeilingPlan plan = plan_of(two_outcomes);
    plan.outcomes.clear();
    CHECK(profit_curve(plan, {gbp("5")}).error().code == "plan.no-outcomes");
}
