// The distribution of the profit. The one part of the library that reckons in binary fractions.
//
// Within each stratum the price is integrated exactly, given everything else (its cumulative distribution is looked
// up); costs, months and factors are drawn once from a lattice and used at every hammer price, so that curves are
// monotone.
#pragma once

#include <array>
#include <cstdint>
#include <map>
#include <memory>
#include <vector>

#include "pert_table.hpp"
#include "profit_model.hpp"

namespace tedge::money {

// A share of 1 of which a part is known exactly.
struct Chance {
    Exact exact_part;
    double simulated_part = 0.0;

    [[nodiscard]] double value() const { return exact_part.get_d() + simulated_part; }
    [[nodiscard]] bool exceeds(const Exact& limit) const;
};

class ProfitSimulation {
public:
    // `draws` in all, shared between the strata. The model must outlive this.
    ProfitSimulation(const ProfitModel& model, std::uint32_t draws);

    [[nodiscard]] Exact mean(const Purchase& purchase) const;
    [[nodiscard]] Chance loss(const Purchase& purchase) const;
    // The profits below which it stays with chances of 5, 50 and 95 in a hundred, in minor units and in this order.
    // Exact where no stratum is uncertain, and where one is reached at a profit that is certain.
    [[nodiscard]] std::array<Exact, 3> quantiles(const Purchase& purchase) const;

    // The distribution of that shape where something of the plan has it; nullptr otherwise.
    [[nodiscard]] const PertTable* table(double most_likely) const {
        const auto found = tables_.find(most_likely);
        return found == tables_.end() ? nullptr : found->second.get();
    }

private:
    struct Draw {
        double costs;
        double one_and_interest;
        double inverse_factor;  // 1 / price factor; 1 where the factor is the tabulated value itself
    };
    // low + width × PERT on [0, 1]; no table: certain.
    struct Variable {
        double low = 0.0;
        double width = 0.0;
        const PertTable* table = nullptr;
    };
    struct Uncertain {
        const Stratum* stratum;
        double weight;
        Variable price;   // what the cumulative distribution is looked up for
        Variable factor;  // drawn; certain 1 where it is in `price`
        std::vector<Draw> draws;
    };
    // The purchase and slopes as binary fractions, with a profit asked for.
    struct Question;

    [[nodiscard]] Variable variable(const ExactEstimate& estimate);
    void add_uncertain(const Stratum& stratum);
    void draw(Uncertain& stratum, std::uint32_t first, std::uint32_t count);
    [[nodiscard]] Exact mean_taxed_margin(const Stratum& stratum, const Exact& margin_price) const;
    [[nodiscard]] static double mean_excess(const Uncertain& stratum, double above);
    [[nodiscard]] Question question(const Purchase& purchase, double profit) const;
    [[nodiscard]] static double share_below(const Uncertain& stratum, const Question& question);
    [[nodiscard]] Exact quantile(const Purchase& purchase, const Exact& chance) const;
    [[nodiscard]] double below(const Purchase& purchase, const std::vector<std::pair<double, double>>& certain,
                               double profit) const;
    [[nodiscard]] std::vector<std::pair<Exact, Exact>> certain_profits(const Purchase& purchase) const;

    const ProfitModel& model_;
    std::map<double, std::unique_ptr<PertTable>> tables_;
    std::vector<Variable> costs_;
    std::vector<const Stratum*> certain_;
    std::vector<Uncertain> uncertain_;
};

}  // namespace tedge::money
