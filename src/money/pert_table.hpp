// The PERT distribution with shape 4 on [0, 1], tabulated so that simulation can look it up.
//
// Density proportional to x^(α−1) (1−x)^(β−1) with α = 1 + 4m, β = 5 − 4m, m the most likely value. Tables by
// Gauss-Legendre quadrature in each of 512 cells, power series at the two ends where the density has no derivative,
// cubic Hermite interpolation between (absolute error of the cumulative distribution below 1e-8, of the quantile's mean
// below 1e-5).
#pragma once

#include <vector>

namespace tedge {

class PertTable {
public:
    explicit PertTable(double most_likely);  // in [0, 1]

    [[nodiscard]] double mean() const { return mean_; }
    [[nodiscard]] double cumulative(double x) const;   // P(X < x), 0 below the range, 1 above it
    [[nodiscard]] double excess_mean(double x) const;  // E max(0, X − x), for any x
    [[nodiscard]] double quantile(double share) const;

    // The distribution as point masses, one per cell, at the mean of the cell: a quadrature rule.
    struct PointMass {
        double at;
        double mass;
    };
    [[nodiscard]] const std::vector<PointMass>& point_masses() const { return point_masses_; }

private:
    [[nodiscard]] double density(double x) const;
    [[nodiscard]] double mass_at_low_end(double width, double alpha, double beta) const;
    [[nodiscard]] double moment_at_low_end(double width, double alpha, double beta) const;
    void tabulate_cells();
    void tabulate_quantiles();
    [[nodiscard]] double solve_quantile(double share, std::size_t cell) const;

    double alpha_;
    double beta_;
    double scale_ = 1.0;  // makes the whole mass 1
    double mean_;
    std::vector<double> cumulative_;  // at the nodes
    std::vector<double> density_;
    std::vector<double> excess_;
    std::vector<PointMass> point_masses_;
    std::vector<double> quantiles_;
};

}  // namespace tedge
