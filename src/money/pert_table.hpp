// The PERT distribution with shape 4 on [0, 1], tabulated so that simulation can look it up.
//
// Density proportional to x^(α−1) (1−x)^(β−1) with α = 1 + 4m, β = 5 − 4m, m the most likely value. Tables by
// Gauss-Legendre quadrature in each of 512 cells, power series at the two ends where the density has no derivative,
// cubic Hermite interpolation between (absolute error of the cumulative distribution below 1e-8, of the mean of
// drawn quantiles below 1e-5).
#pragma once

#include <algorithm>
#include <cstddef>
#include <vector>

namespace tedge::money {

class PertTable {
public:
    explicit PertTable(double most_likely);  // in [0, 1]

    [[nodiscard]] double mean() const { return mean_; }
    [[nodiscard]] double cumulative(double x) const;   // P(X < x), 0 below the range, 1 above it; here for speed
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
    [[nodiscard]] double cumulative_slope(double x, std::size_t cell) const;
    [[nodiscard]] double mass_at_low_end(double width, double alpha, double beta) const;
    [[nodiscard]] double moment_at_low_end(double width, double alpha, double beta) const;
    void tabulate_cells();
    [[nodiscard]] std::vector<double> quantiles_between(double from, double to, std::size_t count) const;
    [[nodiscard]] double solve_quantile(double share, std::size_t cell) const;

    static constexpr std::size_t cells = 512;
    static constexpr std::size_t end_cells = 4;  // where the power series is used
    static constexpr double cell_width = 1.0 / static_cast<double>(cells);

    // Cubic through the values and slopes at both ends of a cell; t in [0, 1] within it.
    [[nodiscard]] static double hermite(double t, double from, double to, double slope_from, double slope_to) {
        const double t2 = t * t;
        const double t3 = t2 * t;
        const double rise = 3.0 * t2 - 2.0 * t3;
        return from + (to - from) * rise + cell_width * (slope_from * (t3 - 2.0 * t2 + t) + slope_to * (t3 - t2));
    }
    // The slope of that cubic by x, not by t.
    [[nodiscard]] static double hermite_slope(double t, double from, double to, double slope_from, double slope_to) {
        const double t2 = t * t;
        return (to - from) * 6.0 * (t - t2) / cell_width + slope_from * (3.0 * t2 - 4.0 * t + 1.0) +
               slope_to * (3.0 * t2 - 2.0 * t);
    }
    [[nodiscard]] static bool is_at_an_end(std::size_t cell) { return cell < end_cells || cell >= cells - end_cells; }

    double alpha_;
    double beta_;
    double scale_ = 1.0;  // makes the whole mass 1
    double mean_;
    std::vector<double> cumulative_;  // at the nodes
    std::vector<double> density_;
    std::vector<double> excess_;
    std::vector<PointMass> point_masses_;
    std::vector<double> quantiles_;
    std::vector<double> low_quantiles_;
    std::vector<double> high_quantiles_;
};

inline double PertTable::cumulative(double x) const {
    if (!(x > 0.0)) return 0.0;
    if (x >= 1.0) return 1.0;
    const double position = x * static_cast<double>(cells);
    const auto cell = std::min(static_cast<std::size_t>(position), cells - 1);
    if (cell < end_cells) return mass_at_low_end(x, alpha_, beta_);
    if (cell >= cells - end_cells) return 1.0 - mass_at_low_end(1.0 - x, beta_, alpha_);
    return hermite(position - static_cast<double>(cell), cumulative_[cell], cumulative_[cell + 1], density_[cell],
                   density_[cell + 1]);
}

}  // namespace tedge::money
