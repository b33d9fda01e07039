// The distribution of the profit against two programs written here for the purpose: plain integration, and a simulation
// that follows the meaning of a plan sentence by sentence with a common pseudo-random generator.
#include <catch2/catch.hpp>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <random>

#include "plan_texts.hpp"
#include "reference_rows.hpp"

using namespace tedge;
using namespace tedge::money;
using namespace tedge::test;

namespace {

double pounds_of(const Money& money) {
    return static_cast<double>(money.minor) / 100.0;
}

// Points and weights of a PERT distribution on [low, high]; the midpoint rule in a variable that flattens both ends.
std::vector<std::pair<double, double>> pert_points(double low, double likely, double high, int steps) {
    const double a = 1.0 + 4.0 * (likely - low) / (high - low);
    const double b = 6.0 - a;
    std::vector<std::pair<double, double>> points;
    double total = 0.0;
    for (int i = 0; i < steps; ++i) {
        const double s = (i + 0.5) / steps;
        const double x = s * s * s * (10.0 - 15.0 * s + 6.0 * s * s);
        const double weight = std::pow(x, a - 1.0) * std::pow(1.0 - x, b - 1.0) * s * s * (1.0 - s) * (1.0 - s);
        points.emplace_back(low + (high - low) * x, weight);
        total += weight;
    }
    for (auto& [value, weight] : points) weight /= total;
    return points;
}

// ---- the sentence-by-sentence simulation -------------------------------------------------------------------------

class Literal {
public:
    explicit Literal(const CeilingPlan& plan) : plan_(plan) {}

    std::vector<double> profits(double hammer, int draws) {
        std::vector<double> result;
        for (int i = 0; i < draws; ++i) result.push_back(profit(hammer));
        std::ranges::sort(result);
        return result;
    }

private:
    double uniform() { return std::uniform_real_distribution<>()(random_); }

    double pert(double low, double likely, double high) {
        if (low == high) return low;
        const double a = 1.0 + 4.0 * (likely - low) / (high - low);
        const double x = std::gamma_distribution<>(a)(random_);
        const double y = std::gamma_distribution<>(6.0 - a)(random_);
        return low + (high - low) * x / (x + y);
    }
    double pert(const Estimate<std::int64_t>& e) {
        return pert(static_cast<double>(e.low) / 100, static_cast<double>(e.likely) / 100,
                    static_cast<double>(e.high) / 100);
    }
    double pert(const Estimate<Decimal>& e) {
        return pert(e.low.to_double(), e.likely.to_double(), e.high.to_double());
    }

    template <class Item>
    const Item& drawn(const std::vector<Item>& items) {
        double rest = uniform();
        for (const Item& item : items) {
            rest -= item.probability.to_double();
            if (rest < 0.0) return item;
        }
        return items.back();
    }

    double premium(double hammer) const {
        double premium = 0.0;
        double below = 0.0;
        for (const PremiumBand& band : plan_.sale.premium) {
            const double end = band.up_to_minor ? static_cast<double>(*band.up_to_minor) / 100 : 1e18;
            premium += std::max(0.0, std::min(hammer, end) - below) * band.percent.to_double() / 100;
            below = end;
        }
        return std::max(premium, static_cast<double>(plan_.sale.minimum_premium_minor) / 100);
    }

    double profit(double hammer) {
        const SaleTerms& sale = plan_.sale;
        const double vat_on_premium = premium(hammer) * sale.vat_on_premium_percent.to_double() / 100;
        const double vat_on_hammer = hammer * sale.vat_on_hammer_percent.to_double() / 100;
        const double margin_price = hammer + premium(hammer) + vat_on_premium + vat_on_hammer;
        const double all_in = margin_price + hammer * sale.surcharge_percent.to_double() / 100 +
                              static_cast<double>(sale.fixed_fees_minor) / 100;
        const Outcome& outcome = drawn(plan_.outcomes);
        const Condition condition = plan_.conditions.empty() ? Condition{} : drawn(plan_.conditions);
        double price = pert(outcome.price_minor) * pert(condition.price_factor);
        double costs = 0.0;
        for (const CostLine& line : plan_.costs) costs += pert(line.amount_minor);
        costs *= pert(condition.cost_factor);
        const double n = plan_.bidders.serious.to_double();
        if (n > 2) price *= 1.0 - plan_.bidders.signal_error.to_double() * (n - 2) / n;
        double months = pert(outcome.months);
        if (uniform() < outcome.unsold.to_double()) {
            price *= plan_.unsold_recovers.to_double();
            months *= 2.0;
        }
        const double rate = plan_.vat_percent.to_double();
        double vat = 0.0;
        double recovered = 0.0;
        if (plan_.selling == Selling::margin_scheme) vat = std::max(0.0, price - margin_price) * rate / (100 + rate);
        if (plan_.selling == Selling::ordinary) {
            vat = price * rate / (100 + rate);
            recovered = vat_on_premium + vat_on_hammer;
        }
        const double finance = (all_in + costs) * plan_.finance_percent_a_year.to_double() / 100 * months / 12;
        return price * (1 - plan_.selling_commission_percent.to_double() / 100) - vat - all_in + recovered - costs -
               finance;
    }

    CeilingPlan plan_;
    std::mt19937_64 random_{20'260'303};
};

double share_below(const std::vector<double>& sorted, double value) {
    return static_cast<double>(std::ranges::lower_bound(sorted, value) - sorted.begin()) /
           static_cast<double>(sorted.size());
}

// Everything that is shown, within four standard errors of the literal simulation.
void compare_with_literal(std::string_view json, std::string_view hammer) {
    constexpr int draws = 200'000;
    const CeilingPlan plan = plan_of(json);
    const auto at = profit_at(plan, {gbp(hammer)}).value()[0];
    const auto profits = Literal(plan).profits(pounds_of(gbp(hammer)), draws);
    double mean = 0.0, square = 0.0;
    for (const double profit : profits) mean += profit / draws;
    for (const double profit : profits) square += (profit - mean) * (profit - mean) / draws;
    CHECK(pounds_of(at.expected_profit) == Approx(mean).margin(4.0 * std::sqrt(square / draws)));
    const auto within = [&](double share) { return 4.0 * std::sqrt(share * (1.0 - share) / draws); };
    CHECK(share_below(profits, 0.0) == Approx(at.loss_probability).margin(within(at.loss_probability) + 1e-6));
    CHECK(share_below(profits, pounds_of(at.quantiles.p5)) == Approx(0.05).margin(within(0.05)));
    CHECK(share_below(profits, pounds_of(at.quantiles.p50)) == Approx(0.50).margin(within(0.50)));
    CHECK(share_below(profits, pounds_of(at.quantiles.p95)) == Approx(0.95).margin(within(0.95)));
}

std::string everything_at_once() {
    auto plan = exchanged(two_outcomes, "\"finance_percent_a_year\": 0", "\"finance_percent_a_year\": 9");
    plan = exchanged(plan, "\"selling_commission_percent\": 0", "\"selling_commission_percent\": 6");
    plan = exchanged(plan, "\"surcharge_percent\": 0", "\"surcharge_percent\": 3");
    plan = exchanged(plan, "\"fixed_fees\": 0", "\"fixed_fees\": 35");
    plan = exchanged(plan, "\"minimum_premium\": 0", "\"minimum_premium\": 50");
    return exchanged(plan, "\"vat_on_hammer_percent\": 0", "\"vat_on_hammer_percent\": 5");
}

}  // namespace

TEST_CASE("the example agrees with a simulation that follows the meaning of a plan word by word") {
    compare_with_literal(two_outcomes, "1400");
    compare_with_literal(two_outcomes, "6500");
}

TEST_CASE("so does a plan with commission, finance, surcharge, fees, minimum premium and import VAT") {
    compare_with_literal(everything_at_once(), "100");
    compare_with_literal(everything_at_once(), "3200");
    compare_with_literal(exchanged(everything_at_once(), "margin-scheme", "ordinary"), "3200");
    compare_with_literal(exchanged(everything_at_once(), "margin-scheme", "export"), "3200");
    compare_with_literal(exchanged(everything_at_once(), "margin-scheme", "none"), "60000");
}

TEST_CASE("ceilings of one uncertain price and one uncertain cost agree with plain integration") {
    // margin scheme, 25 % premium with VAT on it: margin price = all-in = 1.3 H
    auto json = exchanged(certain, R"("price": 20000)", R"("price": [9000, 12000, 21000])");
    json = exchanged(json, R"("amount": 3000)", R"("amount": [1000, 1500, 4000])");
    const auto prices = pert_points(9000, 12000, 21000, 3000);
    const auto costs = pert_points(1000, 1500, 4000, 400);
    const auto expected = [&](double hammer) {
        double mean = 0.0;
        for (const auto& [price, weight] : prices) {
            mean += weight * (price - std::max(0.0, price - 1.3 * hammer) / 6.0);
        }
        return mean - 1.3 * hammer - (1000 + 6000 + 4000) / 6.0;
    };
    const auto loss = [&](double hammer) {
        double chance = 0.0;
        for (const auto& [cost, cost_weight] : costs) {
            for (const auto& [price, weight] : prices) {
                const double profit = price - std::max(0.0, price - 1.3 * hammer) / 6.0 - 1.3 * hammer - cost;
                chance += profit < 0.0 ? weight * cost_weight : 0.0;
            }
        }
        return chance;
    };
    const auto solve = [](auto holds) {
        double low = 0.0, high = 30'000.0;
        for (int i = 0; i < 40; ++i) (holds(0.5 * (low + high)) ? low : high) = 0.5 * (low + high);
        return low;
    };
    for (const std::string_view profit : {"500", "3000", "-2500"}) {
        INFO(profit);
        const double wanted = std::stod(std::string(profit));
        const Money hammer =
            solved(exchanged(json, "\"profit\": 4000", "\"profit\": " + std::string(profit))).target->hammer;
        CHECK(pounds_of(hammer) == Approx(solve([&](double h) { return expected(h) >= wanted; })).margin(0.02));
    }
    for (const std::string_view chance : {"0.02", "0.2", "0.5", "0.9"}) {
        INFO(chance);
        const double accepted = std::stod(std::string(chance));
        const Money hammer =
            solved(exchanged(json, "\"profit\": 4000", "\"loss_probability\": " + std::string(chance))).risk->hammer;
        CHECK(pounds_of(hammer) == Approx(solve([&](double h) { return loss(h) <= accepted; })).epsilon(0.001));
    }
}

TEST_CASE("a certain price with uncertain costs: the chance of loss is that of the costs") {
    // none: profit = 20,000 − 1.3 H − C with C on (1,000, 1,000, 6,000): P(C > c) = (1 − (c − 1,000)/5,000)^5
    auto json = exchanged(certain, "margin-scheme", "none");
    json = exchanged(json, R"("amount": 3000)", R"("amount": [1000, 1000, 6000])");
    for (const double accepted : {0.01, 0.2, 0.7}) {
        const double cost = 1000 + 5000 * (1 - std::pow(accepted, 0.2));
        const auto target = R"("loss_probability": )" + std::to_string(accepted);
        const Money hammer = solved(exchanged(json, "\"profit\": 4000", target)).risk->hammer;
        CHECK(pounds_of(hammer) == Approx((20'000 - cost) / 1.3).epsilon(2e-4));
    }
}

TEST_CASE("an uncertain price alone, or a factor alone, is integrated without any draw") {
    // none: profit = price − 1.3 H − 3,000 with price on (10,000, 10,000, 20,000)
    const auto json = exchanged(exchanged(certain, "margin-scheme", "none"), R"("price": 20000)",
                                R"("price": [10000, 10000, 20000])");
    const auto by_factor = exchanged(exchanged(certain, "margin-scheme", "none"), R"("target")",
                                     R"("conditions": [{"price_factor": [0.5, 0.5, 1]}], "target")");
    for (const double accepted : {0.001, 0.2, 0.95}) {
        const double price = 10'000 + 10'000 * (1 - std::pow(1 - accepted, 0.2));
        const auto target = R"("loss_probability": )" + std::to_string(accepted);
        for (const auto& plan : {json, by_factor}) {
            const Money hammer = solved(exchanged(plan, "\"profit\": 4000", target)).risk->hammer;
            CHECK(pounds_of(hammer) == Approx((price - 3000) / 1.3).margin(0.02));
        }
    }
}

TEST_CASE("fewer and more draws agree") {
    const CeilingPlan plan = plan_of(everything_at_once());
    const auto usual = solve_ceiling(plan).value();
    const auto many = solve_ceiling(plan, {.draws = 1U << 19}).value();
    CHECK(pounds_of(usual.risk->hammer) == Approx(pounds_of(many.risk->hammer)).epsilon(2e-4));
    CHECK(usual.at_bid->loss_probability == Approx(many.at_bid->loss_probability).margin(5e-5));
    CHECK(pounds_of(usual.at_bid->quantiles.p5) == Approx(pounds_of(many.at_bid->quantiles.p5)).margin(5));
    CHECK(usual.target->hammer == many.target->hammer);
    CHECK(solve_ceiling(plan, {.draws = 0}));
}

TEST_CASE("curves are monotone in the hammer price") {
    const CeilingPlan plan = plan_of(everything_at_once());
    std::vector<Money> hammers;
    for (std::int64_t hammer = 100; hammer < 3'000'000; hammer += hammer / 7 + 1) hammers.push_back({hammer, pounds()});
    const auto points = profit_at(plan, hammers, {.draws = 4096}).value();
    for (std::size_t i = 1; i < points.size(); ++i) {
        INFO(text(points[i].hammer));
        CHECK(points[i].all_in.minor >= points[i - 1].all_in.minor);
        CHECK(points[i].expected_profit.minor <= points[i - 1].expected_profit.minor);
        CHECK(points[i].loss_probability >= points[i - 1].loss_probability);
        CHECK(points[i].quantiles.p5.minor <= points[i - 1].quantiles.p5.minor);
        CHECK(points[i].quantiles.p50.minor <= points[i - 1].quantiles.p50.minor);
        CHECK(points[i].quantiles.p95.minor <= points[i - 1].quantiles.p95.minor);
        CHECK(points[i].quantiles.p5.minor <= points[i].quantiles.p50.minor);
        CHECK(points[i].quantiles.p50.minor <= points[i].quantiles.p95.minor);
    }
    CHECK(points.back().loss_probability == Approx(1.0));
}

TEST_CASE("the same plan gives the same answer") {
    const CeilingPlan plan = plan_of(two_outcomes);
    const auto first = solve_ceiling(plan).value();
    const auto second = solve_ceiling(plan).value();
    CHECK(first.risk->hammer == second.risk->hammer);
    CHECK(first.at_bid->loss_probability == second.at_bid->loss_probability);
    CHECK(first.at_bid->quantiles.p5 == second.at_bid->quantiles.p5);
}

TEST_CASE("hammer prices that cannot be are refused") {
    const CeilingPlan plan = plan_of(certain);
    CHECK(profit_at(plan, {gbp("0")}).error().code == "ceiling.no-hammer");
    CHECK(profit_at(plan, {parse_money("5", Currency::parse("EUR").value()).value()}).error().code ==
          "money.mixed-currencies");
    CHECK(profit_at(plan, {}).value().empty());
}
