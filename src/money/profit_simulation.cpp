#include "profit_simulation.hpp"

#include <algorithm>
#include <bit>
#include <cmath>

#include "lattice.hpp"

namespace tedge::money {

namespace {

constexpr std::uint32_t fewest_draws = 16;

}  // namespace

bool Chance::exceeds(const Exact& limit) const {
    if (simulated_part == 0.0) return exact_part > limit;
    return value() > limit.get_d();
}

struct ProfitSimulation::Question {
    double all_in;
    double untaxed_price;
    double kept;             // of a pound of the price below the untaxed price
    double kept_after_tax;   // of a pound above it
    double kept_at_untaxed;  // untaxed_price × kept
    double to_cover;         // the profit asked for less the VAT recovered
};

ProfitSimulation::ProfitSimulation(const ProfitModel& model, std::uint32_t draws) : model_(model) {
    for (const ExactEstimate& cost : model_.costs()) costs_.push_back(variable(cost));
    for (const Stratum& stratum : model_.strata()) {
        if (model_.is_certain(stratum)) {
            certain_.push_back(&stratum);
        } else {
            add_uncertain(stratum);
        }
    }
    if (uncertain_.empty()) return;
    const auto strata = static_cast<std::uint32_t>(uncertain_.size());
    const std::uint32_t most = std::bit_floor(lattice_size / strata);
    const std::uint32_t each = std::clamp(std::bit_floor(std::max(draws / strata, 1U)), fewest_draws, most);
    for (std::uint32_t i = 0; i < strata; ++i) draw(uncertain_[i], i * each, each);
}

ProfitSimulation::Variable ProfitSimulation::variable(const ExactEstimate& estimate) {
    const Exact width = estimate.high - estimate.low;
    if (width == 0) return {estimate.low.get_d(), 0.0, nullptr};
    const double most_likely = Exact((estimate.likely - estimate.low) / width).get_d();
    auto& table = tables_[most_likely];
    if (!table) table = std::make_unique<PertTable>(most_likely);
    return {estimate.low.get_d(), width.get_d(), table.get()};
}

// Where only the factor is uncertain it takes the place of the price: the looked-up value is then factor × certain
// price.
void ProfitSimulation::add_uncertain(const Stratum& stratum) {
    Uncertain added{&stratum, stratum.weight.get_d(), {}, {1.0, 0.0, nullptr}, {}};
    if (stratum.price_is_certain()) {
        added.price = {stratum.lowest_price().get_d(), 0.0, nullptr};
    } else if (stratum.price.is_certain()) {
        added.price = variable(stratum.price_factor.times(stratum.price.low));
    } else if (stratum.price_factor.is_certain()) {
        added.price = variable(stratum.price.times(stratum.price_factor.low));
    } else {
        added.price = variable(stratum.price);
        added.factor = variable(stratum.price_factor);
    }
    uncertain_.push_back(std::move(added));
}

void ProfitSimulation::draw(Uncertain& stratum, std::uint32_t first, std::uint32_t count) {
    const Variable months = variable(stratum.stratum->months);
    const Variable cost_factor = variable(stratum.stratum->cost_factor);
    const double interest = model_.interest_a_month().get_d();
    const bool any_drawn = months.table || cost_factor.table || stratum.factor.table ||
                           std::ranges::any_of(costs_, [](const Variable& cost) { return cost.table != nullptr; });
    stratum.draws.resize(any_drawn ? count : 1);
    for (std::uint32_t i = 0; i < stratum.draws.size(); ++i) {
        std::size_t dimension = 0;
        const auto value = [&](const Variable& v) {
            return v.table ? v.low + v.width * v.table->quantile(lattice_coordinate(first + i, dimension++)) : v.low;
        };
        const double factor = value(stratum.factor);
        const double one_and_interest = 1.0 + interest * value(months);
        const double multiplied = value(cost_factor);
        double costs = 0.0;
        for (const Variable& cost : costs_) costs += value(cost);
        stratum.draws[i] = {costs * multiplied, one_and_interest, 1.0 / factor};
    }
}

double ProfitSimulation::mean_excess(const Uncertain& stratum, double above) {
    const Variable& price = stratum.price;
    const auto scaled = [&](double factor) {
        return factor * price.width * price.table->excess_mean((above / factor - price.low) / price.width);
    };
    if (!stratum.factor.table) return scaled(1.0);
    double sum = 0.0;
    for (const auto& [at, mass] : stratum.factor.table->point_masses()) {
        sum += mass * scaled(stratum.factor.low + stratum.factor.width * at);
    }
    return sum;
}

// E max(0, price − margin price): exact where the price lies wholly on one side.
Exact ProfitSimulation::mean_taxed_margin(const Stratum& stratum, const Exact& margin_price) const {
    if (stratum.lowest_price() >= margin_price) {
        return stratum.price.mean() * stratum.price_factor.mean() - margin_price;
    }
    if (stratum.highest_price() <= margin_price) return 0;
    const auto uncertain = std::ranges::find(uncertain_, &stratum, &Uncertain::stratum);
    return Exact(mean_excess(*uncertain, margin_price.get_d()));
}

Exact ProfitSimulation::mean(const Purchase& purchase) const {
    Exact mean = model_.mean_before_margin_tax(purchase);
    if (model_.plan().selling != Selling::margin_scheme) return mean;
    Exact taxed = 0;
    for (const Stratum& stratum : model_.strata()) {
        taxed += stratum.weight * mean_taxed_margin(stratum, purchase.margin_price);
    }
    return mean - taxed * model_.tax_share();
}

ProfitSimulation::Question ProfitSimulation::question(const Purchase& purchase, double profit) const {
    const double untaxed = model_.untaxed_price(purchase).get_d();
    const double kept = model_.kept().get_d();
    return {purchase.all_in.get_d(),
            untaxed,
            kept,
            Exact(model_.kept() - model_.tax_share()).get_d(),
            untaxed * kept,
            profit - purchase.vat_recovered.get_d()};
}

// The chance that the price does not reach what this draw needs for the profit asked for, averaged over the draws.
double ProfitSimulation::share_below(const Uncertain& stratum, const Question& q) {
    const Variable& price = stratum.price;
    const double inverse_width = price.table ? 1.0 / price.width : 0.0;
    double sum = 0.0;
    for (const Draw& draw : stratum.draws) {
        const double needed = (q.all_in + draw.costs) * draw.one_and_interest + q.to_cover;
        const double at_price = needed <= q.kept_at_untaxed
                                    ? needed / q.kept
                                    : q.untaxed_price + (needed - q.kept_at_untaxed) / q.kept_after_tax;
        const double asked = at_price * draw.inverse_factor;
        sum += price.table         ? price.table->cumulative((asked - price.low) * inverse_width)
               : asked > price.low ? 1.0
                                   : 0.0;
    }
    return sum / static_cast<double>(stratum.draws.size());
}

Chance ProfitSimulation::loss(const Purchase& purchase) const {
    Chance chance;
    for (const Stratum* stratum : certain_) {
        if (model_.certain_profit(*stratum, purchase) < 0) chance.exact_part += stratum->weight;
    }
    const Question q = question(purchase, 0.0);
    for (const Uncertain& stratum : uncertain_) chance.simulated_part += stratum.weight * share_below(stratum, q);
    return chance;
}

std::vector<std::pair<Exact, Exact>> ProfitSimulation::certain_profits(const Purchase& purchase) const {
    std::vector<std::pair<Exact, Exact>> profits;
    profits.reserve(certain_.size());
    for (const Stratum* stratum : certain_) {
        profits.emplace_back(model_.certain_profit(*stratum, purchase), stratum->weight);
    }
    std::ranges::sort(profits);
    return profits;
}

double ProfitSimulation::below(const Purchase& purchase, const std::vector<std::pair<double, double>>& certain,
                               double profit) const {
    double sum = 0.0;
    for (const auto& [value, weight] : certain) sum += value < profit ? weight : 0.0;
    const Question q = question(purchase, profit);
    for (const Uncertain& stratum : uncertain_) sum += stratum.weight * share_below(stratum, q);
    return sum;
}

namespace {

// Regula falsi with halved ends (Illinois; Dowell & Jarratt, BIT 11 (1971) 168-174, from memory), and a plain halving
// whenever it gains too little: the function is monotone but may jump.
template <class Function>
double crossing(Function rising, double low, double high, double tolerance) {
    double miss_low = rising(low);
    double miss_high = rising(high);
    for (int step = 0; step < 200 && high - low > tolerance; ++step) {
        const double slope = miss_high - miss_low;
        double at = step % 3 == 2 || slope <= 0.0 ? 0.5 * (low + high) : low - miss_low * (high - low) / slope;
        at = std::clamp(at, low + 0.25 * tolerance, high - 0.25 * tolerance);
        const double miss = rising(at);
        if (miss < 0.0) {
            low = at;
            miss_low = miss;
            miss_high *= 0.5;
        } else {
            high = at;
            miss_high = miss;
            miss_low *= 0.5;
        }
    }
    return high;
}

Exact discrete_quantile(const std::vector<std::pair<Exact, Exact>>& profits, const Exact& chance) {
    Exact sum = 0;
    for (const auto& [profit, weight] : profits) {
        sum += weight;
        if (sum >= chance) return profit;
    }
    return profits.back().first;
}

}  // namespace

Exact ProfitSimulation::quantile(const Purchase& purchase, const Exact& chance) const {
    const auto profits = certain_profits(purchase);
    if (uncertain_.empty()) return discrete_quantile(profits, chance);
    std::vector<std::pair<double, double>> certain;
    certain.reserve(profits.size());
    for (const auto& [profit, weight] : profits) certain.emplace_back(profit.get_d(), weight.get_d());
    double lowest = 0.0;
    for (const Stratum& s : model_.strata()) {
        lowest = std::min(lowest, model_.worst_profit(s, purchase).get_d());
    }
    const double highest = Exact(model_.highest_price() + purchase.vat_recovered).get_d();
    const double wanted = chance.get_d();
    const double tolerance = std::max(0.1, 1e-12 * (highest - lowest));  // a tenth of a penny
    const double found = crossing([&](double profit) { return below(purchase, certain, profit) - wanted; },
                                  lowest - 1.0, highest + 1.0, tolerance);
    // Where it is reached by a jump, the profit that is certain there is the answer, to the penny.
    for (std::size_t i = 0; i < certain.size(); ++i) {
        const double jump = certain[i].first;
        if (jump <= found && found - jump <= tolerance && below(purchase, certain, jump) < wanted)
            return profits[i].first;
    }
    return Exact(found);
}

// Each is found to a tenth of a penny by itself: two at one jump could come out on either side of half a penny.
std::array<Exact, 3> ProfitSimulation::quantiles(const Purchase& purchase) const {
    std::array<Exact, 3> found{quantile(purchase, Exact(5, 100)), quantile(purchase, Exact(1, 2)),
                               quantile(purchase, Exact(95, 100))};
    for (std::size_t i = 1; i < found.size(); ++i) found[i] = std::max(found[i], found[i - 1]);
    return found;
}

}  // namespace tedge::money
