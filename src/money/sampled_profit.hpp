// The profit of every draw at one hammer price after another, counted. Binary fractions throughout.
//
// Estimates are looked up in tables of equally likely values, so a draw is a few loads and multiplications.
#pragma once

#include <cstdint>
#include <map>
#include <vector>

#include "profit_model.hpp"
#include "profit_simulation.hpp"

namespace tedge::money {

class SampledProfit {
public:
    // About `draws` in all, shared between the strata. The model must outlive this; the simulation's tables are read,
    // for making them takes longer than drawing from them.
    SampledProfit(const ProfitModel& model, const ProfitSimulation& simulation, std::uint32_t draws);

    struct Figures {
        double loss = 0.0;
        double p5 = 0.0, p50 = 0.0, p95 = 0.0;  // minor units
    };
    // Not const: it reckons in buffers of its own.
    [[nodiscard]] Figures at(const Purchase& purchase);

private:
    // Draws of one stratum, one after another in the lists below.
    struct Block {
        double weight;  // of one draw
        std::size_t first;
        std::size_t count;
    };

    void draw(const Stratum& stratum, std::uint32_t first_point, std::uint32_t count);
    void add_values(const ExactEstimate& estimate, std::size_t dimension, std::vector<float>& sums);
    [[nodiscard]] const std::vector<float>& equally_likely(double most_likely);
    void reckon(const Purchase& purchase);
    void count_into_cells(float lowest, float cells_per_unit);
    [[nodiscard]] double quantile(double chance, float lowest, float cells_per_unit) const;

    const ProfitModel& model_;
    const ProfitSimulation* simulation_;  // while drawing
    std::map<double, std::vector<float>> tables_;
    std::vector<std::uint32_t> nodes_;  // of the lattice, while drawing
    std::vector<Block> blocks_;
    std::vector<float> price_;
    std::vector<float> one_and_interest_;
    std::vector<float> before_purchase_;  // price after commission, less costs and their interest
    std::vector<float> profit_;
    std::vector<std::uint32_t> counts_;
    std::vector<double> mass_;
};

}  // namespace tedge::money
