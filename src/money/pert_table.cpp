#include "pert_table.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace tedge::money {

namespace {

constexpr std::size_t quantile_cells = 2048;
constexpr std::size_t tail_cells = 512;
constexpr double tail = 1.0 / 64.0;

// Nodes and weights of the four-point Gauss-Legendre rule on [0, 1] (Abramowitz & Stegun, table 25.4, shifted).
constexpr std::array<double, 4> gauss_nodes{0.06943184420297371, 0.33000947820757187, 0.66999052179242813,
                                            0.93056815579702629};
constexpr std::array<double, 4> gauss_weights{0.17392742256872693, 0.32607257743127307, 0.32607257743127307,
                                              0.17392742256872693};

// ∫ x^(power−1) (1−x)^(beta−1) dx from 0 to a small width, by the binomial series of the second factor.
double series_integral(double width, double power, double beta) {
    double sum = 0.0;
    double term = 1.0;
    for (int k = 0; k < 8; ++k) {
        sum += term / (power + k);
        term *= -width * (beta - 1.0 - k) / (k + 1.0);
    }
    return std::pow(width, power) * sum;
}

}  // namespace

PertTable::PertTable(double most_likely)
    : alpha_(1.0 + 4.0 * most_likely),
      beta_(5.0 - 4.0 * most_likely),
      mean_(alpha_ / 6.0),
      cumulative_(cells + 1),
      density_(cells + 1),
      excess_(cells + 1),
      point_masses_(cells) {
    tabulate_cells();
    quantiles_ = quantiles_between(0.0, 1.0, quantile_cells);
    low_quantiles_ = quantiles_between(0.0, tail, tail_cells);
    high_quantiles_ = quantiles_between(1.0 - tail, 1.0, tail_cells);
}

double PertTable::density(double x) const {
    return scale_ * std::pow(x, alpha_ - 1.0) * std::pow(1.0 - x, beta_ - 1.0);
}

double PertTable::mass_at_low_end(double width, double alpha, double beta) const {
    return scale_ * series_integral(width, alpha, beta);
}

double PertTable::moment_at_low_end(double width, double alpha, double beta) const {
    return scale_ * series_integral(width, alpha + 1.0, beta);
}

void PertTable::tabulate_cells() {
    std::vector<double> masses(cells, 0.0);
    std::vector<double> moments(cells, 0.0);
    for (std::size_t cell = 1; cell + 1 < cells; ++cell) {
        for (std::size_t k = 0; k < gauss_nodes.size(); ++k) {
            const double x = (static_cast<double>(cell) + gauss_nodes[k]) * cell_width;
            const double part = gauss_weights[k] * cell_width * density(x);
            masses[cell] += part;
            moments[cell] += part * x;
        }
    }
    masses.front() = mass_at_low_end(cell_width, alpha_, beta_);
    moments.front() = moment_at_low_end(cell_width, alpha_, beta_);
    masses.back() = mass_at_low_end(cell_width, beta_, alpha_);
    moments.back() = masses.back() - moment_at_low_end(cell_width, beta_, alpha_);

    double total = 0.0;
    for (const double mass : masses) total += mass;
    scale_ /= total;
    double mass_above = 1.0;
    double moment_above = 0.0;
    for (const double moment : moments) moment_above += moment / total;
    for (std::size_t node = 0; node <= cells; ++node) {
        const double x = static_cast<double>(node) * cell_width;
        cumulative_[node] = node == cells ? 1.0 : 1.0 - mass_above;
        density_[node] = density(x);
        excess_[node] = node == cells ? 0.0 : moment_above - x * mass_above;
        if (node == cells) break;
        point_masses_[node] = {moments[node] / masses[node], masses[node] / total};
        mass_above -= masses[node] / total;
        moment_above -= moments[node] / total;
    }
}

double PertTable::excess_mean(double x) const {
    if (x <= 0.0) return mean_ - x;
    if (x >= 1.0) return 0.0;
    const double position = x * static_cast<double>(cells);
    const auto cell = std::min(static_cast<std::size_t>(position), cells - 1);
    return hermite(position - static_cast<double>(cell), excess_[cell], excess_[cell + 1], cumulative_[cell] - 1.0,
                   cumulative_[cell + 1] - 1.0);
}

// The slope of what cumulative() returns: between the ends that is a cubic, which needs no power.
double PertTable::cumulative_slope(double x, std::size_t cell) const {
    if (is_at_an_end(cell)) return density(x);
    const double t = x * static_cast<double>(cells) - static_cast<double>(cell);
    return hermite_slope(t, cumulative_[cell], cumulative_[cell + 1], density_[cell], density_[cell + 1]);
}

double PertTable::solve_quantile(double share, std::size_t cell) const {
    double low = static_cast<double>(cell) * cell_width;
    double high = low + cell_width;
    double x = low + cell_width * (share - cumulative_[cell]) / (cumulative_[cell + 1] - cumulative_[cell]);
    for (int step = 0; step < 60 && high - low > 1e-12; ++step) {
        const double miss = cumulative(x) - share;
        (miss < 0.0 ? low : high) = x;
        const double slope = cumulative_slope(x, cell);
        const double newton = slope > 0.0 ? x - miss / slope : low;
        if (std::abs(newton - x) < 1e-12) return newton;
        x = newton > low && newton < high ? newton : 0.5 * (low + high);
    }
    return x;
}

std::vector<double> PertTable::quantiles_between(double from, double to, std::size_t count) const {
    std::vector<double> result(count + 1);
    std::size_t cell = 0;
    for (std::size_t i = 0; i <= count; ++i) {
        const double share = from + (to - from) * static_cast<double>(i) / static_cast<double>(count);
        while (cell + 1 < cells && cumulative_[cell + 1] < share) ++cell;
        result[i] = share <= 0.0 ? 0.0 : share >= 1.0 ? 1.0 : solve_quantile(share, cell);
    }
    return result;
}

// Finer in the tails, where the quantile is steep.
double PertTable::quantile(double share) const {
    const auto between = [](const std::vector<double>& table, double part) {
        const double position = std::clamp(part, 0.0, 1.0) * static_cast<double>(table.size() - 1);
        const auto cell = std::min(static_cast<std::size_t>(position), table.size() - 2);
        return table[cell] + (position - static_cast<double>(cell)) * (table[cell + 1] - table[cell]);
    };
    if (share < tail) return between(low_quantiles_, share / tail);
    if (share > 1.0 - tail) return between(high_quantiles_, (share - (1.0 - tail)) / tail);
    return between(quantiles_, share);
}

}  // namespace tedge::money
