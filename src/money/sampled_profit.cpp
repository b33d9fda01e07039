#include "sampled_profit.hpp"

#include <algorithm>
#include <optional>

#include "lattice.hpp"
#include "pert_table.hpp"

namespace tedge::money {

namespace {

constexpr int table_bits = 12;
constexpr std::size_t cells = 4096;

}  // namespace

SampledProfit::SampledProfit(const ProfitModel& model, const ProfitSimulation& simulation, std::uint32_t draws)
    : model_(model), simulation_(&simulation), counts_(cells), mass_(cells) {
    const auto strata = static_cast<std::uint32_t>(model_.strata().size());
    const std::uint32_t each = std::clamp(draws / strata + (draws % strata != 0 ? 1U : 0U), 1U, lattice_size / strata);
    std::uint32_t first = 0;
    for (const Stratum& stratum : model_.strata()) {
        const std::uint32_t count = model_.is_certain(stratum) ? 1 : each;
        draw(stratum, first, count);
        first += count;
    }
    profit_.resize(price_.size());
    simulation_ = nullptr;
}

const std::vector<float>& SampledProfit::equally_likely(double most_likely) {
    std::vector<float>& values = tables_[most_likely];
    if (!values.empty()) return values;
    const PertTable* known = simulation_->table(most_likely);
    std::optional<PertTable> made;
    if (known == nullptr) known = &made.emplace(most_likely);
    constexpr std::size_t count = std::size_t{1} << table_bits;
    values.reserve(count);
    for (std::size_t i = 0; i < count; ++i) {
        values.push_back(static_cast<float>(known->quantile((static_cast<double>(i) + 0.5) / count)));
    }
    return values;
}

// Adds a draw of the estimate to each of the sums.
void SampledProfit::add_values(const ExactEstimate& estimate, std::size_t dimension, std::vector<float>& sums) {
    const auto low = static_cast<float>(estimate.low.get_d());
    const Exact width = estimate.high - estimate.low;
    if (width == 0) {
        for (float& sum : sums) sum += low;
        return;
    }
    const auto scale = static_cast<float>(width.get_d());
    const float* table = equally_likely(Exact((estimate.likely - estimate.low) / width).get_d()).data();
    const LatticeAxis axis = lattice_axis(dimension);
    for (std::size_t i = 0; i < sums.size(); ++i) sums[i] += low + scale * table[axis.cell(nodes_[i], table_bits)];
}

void SampledProfit::draw(const Stratum& stratum, std::uint32_t first_point, std::uint32_t count) {
    nodes_.resize(count);
    for (std::uint32_t i = 0; i < count; ++i) nodes_[i] = lattice_node(first_point + i);
    const auto drawn = [&](const ExactEstimate& estimate, std::size_t dimension) {
        std::vector<float> values(count, 0.0F);
        add_values(estimate, dimension, values);
        return values;
    };
    std::vector<float> price = drawn(stratum.price, 0);
    const std::vector<float> price_factor = drawn(stratum.price_factor, 1);
    const std::vector<float> cost_factor = drawn(stratum.cost_factor, 2);
    const std::vector<float> months = drawn(stratum.months, 3);
    std::vector<float> costs(count, 0.0F);
    std::size_t dimension = 4;
    for (const ExactEstimate& cost : model_.costs()) add_values(cost, dimension++ % lattice_dimensions, costs);

    const auto kept = static_cast<float>(model_.kept().get_d());
    const auto interest = static_cast<float>(model_.interest_a_month().get_d());
    blocks_.push_back({stratum.weight.get_d() / count, price_.size(), count});
    for (std::uint32_t i = 0; i < count; ++i) {
        const float sold = price[i] * price_factor[i];
        const float one_and_interest = 1.0F + interest * months[i];
        price_.push_back(sold);
        one_and_interest_.push_back(one_and_interest);
        before_purchase_.push_back(sold * kept - costs[i] * cost_factor[i] * one_and_interest);
    }
}

void SampledProfit::reckon(const Purchase& purchase) {
    const auto all_in = static_cast<float>(purchase.all_in.get_d());
    const auto untaxed = static_cast<float>(model_.untaxed_price(purchase).get_d());
    const auto share = static_cast<float>(model_.tax_share().get_d());
    const auto recovered = static_cast<float>(purchase.vat_recovered.get_d());
    const float* price = price_.data();
    const float* interest = one_and_interest_.data();
    const float* before = before_purchase_.data();
    float* profit = profit_.data();
    for (std::size_t i = 0; i < profit_.size(); ++i) {
        const float above = price[i] - untaxed;
        const float taxed = above > 0.0F ? above : 0.0F;
        profit[i] = before[i] - taxed * share - all_in * interest[i] + recovered;
    }
}

void SampledProfit::count_into_cells(float lowest, float cells_per_unit) {
    std::ranges::fill(mass_, 0.0);
    for (const Block& block : blocks_) {
        std::ranges::fill(counts_, 0U);
        const float* profit = profit_.data() + block.first;
        for (std::size_t i = 0; i < block.count; ++i) {
            ++counts_[std::min(static_cast<std::uint32_t>((profit[i] - lowest) * cells_per_unit),
                               static_cast<std::uint32_t>(cells - 1))];
        }
        for (std::size_t cell = 0; cell < cells; ++cell) mass_[cell] += block.weight * counts_[cell];
    }
}

double SampledProfit::quantile(double chance, float lowest, float cells_per_unit) const {
    double below = 0.0;
    std::size_t cell = 0;
    while (cell + 1 < cells && below + mass_[cell] < chance) below += mass_[cell++];
    const double part = mass_[cell] > 0.0 ? std::clamp((chance - below) / mass_[cell], 0.0, 1.0) : 1.0;
    return lowest + (static_cast<double>(cell) + part) / cells_per_unit;
}

SampledProfit::Figures SampledProfit::at(const Purchase& purchase) {
    reckon(purchase);
    Figures figures;
    for (const Block& block : blocks_) {
        std::size_t lost = 0;
        for (std::size_t i = 0; i < block.count; ++i) lost += profit_[block.first + i] < 0.0F ? 1U : 0U;
        figures.loss += block.weight * static_cast<double>(lost);
    }
    float lowest = profit_[0];
    float highest = profit_[0];
    for (const float profit : profit_) {
        lowest = profit < lowest ? profit : lowest;
        highest = profit > highest ? profit : highest;
    }
    const float cells_per_unit = highest > lowest ? static_cast<float>(cells) / (highest - lowest) : 1.0F;
    count_into_cells(lowest, cells_per_unit);
    figures.p5 = quantile(0.05, lowest, cells_per_unit);
    figures.p50 = quantile(0.50, lowest, cells_per_unit);
    figures.p95 = quantile(0.95, lowest, cells_per_unit);
    return figures;
}

}  // namespace tedge::money
