#include "residual_field.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace tedge::imaging {
namespace {

// Where no tile says anything the field runs on level rather than at a slope: neighbouring coefficients there are
// expected to differ by no more than this share of their distance.
constexpr double level_slope = 0.005;
// A coefficient has support when its observations weigh more than this share of what a coefficient has on average; the
// field is carried on at a slope for as many coefficients beyond.
constexpr double least_support = 0.1;
constexpr int carried_on = 2;
// Keeps the equations solvable where nothing is known at all, px.
constexpr double largest_displacement = 1e4;

}  // namespace

FieldLattice lattice_over(SizePx picture, int cells) {
    FieldLattice lattice;
    const double width = picture.width_px - 1;
    const double height = picture.height_px - 1;
    lattice.spacing = std::max(1.0, std::max(width, height) / cells);
    // Half a cell more at each side: what is displaced may lie a little outside.
    const int cells_x = static_cast<int>(std::ceil(width / lattice.spacing - 1e-9)) + 1;
    const int cells_y = static_cast<int>(std::ceil(height / lattice.spacing - 1e-9)) + 1;
    lattice.columns = cells_x + 3;
    lattice.rows = cells_y + 3;
    lattice.origin = {0.5 * (width - cells_x * lattice.spacing) - lattice.spacing,
                      0.5 * (height - cells_y * lattice.spacing) - lattice.spacing};
    return lattice;
}

struct SmoothingField::Support {
    int column = 0;  // first of four
    int row = 0;
    std::array<double, 4> along_x{};
    std::array<double, 4> along_y{};
};

SmoothingField::Support SmoothingField::support(PointPx at) const {
    const double u = std::clamp((at.x_px - lattice_.origin.x_mm) / lattice_.spacing, 1.0, lattice_.columns - 2.0);
    const double v = std::clamp((at.y_px - lattice_.origin.y_mm) / lattice_.spacing, 1.0, lattice_.rows - 2.0);
    const int column = std::min(static_cast<int>(u), lattice_.columns - 3);
    const int row = std::min(static_cast<int>(v), lattice_.rows - 3);
    return {column - 1, row - 1, cubic_bspline_weights(u - column), cubic_bspline_weights(v - row)};
}

SmoothingField::SmoothingField(const FieldLattice& lattice, const std::vector<FieldObservation>& observations,
                               const std::vector<double>& weights, double roughness_px)
    : SmoothingField(lattice, observations, weights,
                     std::vector<double>(static_cast<std::size_t>(lattice.columns * lattice.rows), roughness_px)) {}

SmoothingField::SmoothingField(const FieldLattice& lattice, const std::vector<FieldObservation>& observations,
                               const std::vector<double>& weights, const std::vector<double>& roughness_px)
    : lattice_(lattice),
      along_rows_(lattice.columns <= lattice.rows),
      matrix_(static_cast<std::size_t>(2 * lattice.columns * lattice.rows),
              static_cast<std::size_t>(2 * (3 * std::min(lattice.columns, lattice.rows) + 3) + 1)),
      solution_(matrix_.size()),
      knot_support_(matrix_.size() / 2) {
    for (std::size_t i = 0; i < observations.size(); ++i) {
        if (weights[i] > 0.0) add_observation(observations[i], weights[i]);
    }
    add_roughness(roughness_px);
    matrix_.factorise();
    matrix_.solve(solution_);
}

// Numbered along the shorter side, which keeps the band narrow.
std::size_t SmoothingField::unknown(int column, int row, int component) const {
    const int knot = along_rows_ ? row * lattice_.columns + column : column * lattice_.rows + row;
    return static_cast<std::size_t>(2 * knot + component);
}

void SmoothingField::add_observation(const FieldObservation& observation, double weight) {
    const Support s = support(observation.at);
    const auto& w = observation.information;
    const double right_x = w[0] * observation.dx + w[1] * observation.dy;
    const double right_y = w[1] * observation.dx + w[2] * observation.dy;
    std::array<double, 16> basis{};
    std::array<std::size_t, 16> first{};
    for (std::size_t k = 0; k < 16; ++k) {
        basis[k] = s.along_x[k % 4] * s.along_y[k / 4];
        first[k] = unknown(s.column + static_cast<int>(k % 4), s.row + static_cast<int>(k / 4), 0);
        knot_support_[static_cast<std::size_t>((s.row + static_cast<int>(k / 4)) * lattice_.columns + s.column +
                                               static_cast<int>(k % 4))] += weight * basis[k];
        solution_[first[k]] += weight * basis[k] * right_x;
        solution_[first[k] + 1] += weight * basis[k] * right_y;
    }
    for (std::size_t a = 0; a < 16; ++a) {
        for (std::size_t b = 0; b < 16; ++b) {
            if (first[b] > first[a]) continue;
            const double product = weight * basis[a] * basis[b];
            matrix_.at(first[a], first[b]) += product * w[0];
            matrix_.at(first[a] + 1, first[b]) += product * w[1];
            matrix_.at(first[a] + 1, first[b] + 1) += product * w[2];
            if (first[b] < first[a]) matrix_.at(first[a], first[b] + 1) += product * w[1];
        }
    }
}

void SmoothingField::add_roughness(const std::vector<double>& roughness_px) {
    struct Term {
        int column, row;
        double factor;
    };
    const auto add = [&](const std::vector<Term>& terms, double weight) {
        for (int component = 0; component < 2; ++component) {
            for (const Term& a : terms) {
                for (const Term& b : terms) {
                    const std::size_t i = unknown(a.column, a.row, component);
                    const std::size_t j = unknown(b.column, b.row, component);
                    if (j <= i) matrix_.at(i, j) += weight * a.factor * b.factor;
                }
            }
        }
    };
    const auto information = [&](int column, int row) {
        const double roughness = roughness_px[static_cast<std::size_t>(row * lattice_.columns + column)];
        return 1.0 / (roughness * roughness);
    };
    const double slope = level_slope * lattice_.spacing;
    const double slope_information = 1.0 / (slope * slope);
    double average = 0.0;
    for (const double each : knot_support_) average += each / static_cast<double>(knot_support_.size());
    const auto unsupported = [&](int column, int row) {
        for (int r = std::max(0, row - carried_on); r <= std::min(lattice_.rows - 1, row + carried_on); ++r) {
            for (int c = std::max(0, column - carried_on); c <= std::min(lattice_.columns - 1, column + carried_on);
                 ++c) {
                if (knot_support_[static_cast<std::size_t>(r * lattice_.columns + c)] >= least_support * average)
                    return false;
            }
        }
        return true;
    };
    for (int r = 0; r < lattice_.rows; ++r) {
        for (int c = 0; c < lattice_.columns; ++c) {
            if (c + 2 < lattice_.columns) add({{c, r, 1.0}, {c + 1, r, -2.0}, {c + 2, r, 1.0}}, information(c + 1, r));
            if (r + 2 < lattice_.rows) add({{c, r, 1.0}, {c, r + 1, -2.0}, {c, r + 2, 1.0}}, information(c, r + 1));
            if (c + 1 < lattice_.columns && r + 1 < lattice_.rows)
                add({{c, r, 1.0}, {c + 1, r, -1.0}, {c, r + 1, -1.0}, {c + 1, r + 1, 1.0}},
                    information(c, r) + information(c + 1, r + 1));
            if (c + 1 < lattice_.columns && (unsupported(c, r) || unsupported(c + 1, r)))
                add({{c, r, 1.0}, {c + 1, r, -1.0}}, slope_information);
            if (r + 1 < lattice_.rows && (unsupported(c, r) || unsupported(c, r + 1)))
                add({{c, r, 1.0}, {c, r + 1, -1.0}}, slope_information);
            add({{c, r, 1.0}}, 1.0 / (largest_displacement * largest_displacement));
        }
    }
}

BsplineDisplacement SmoothingField::displacement() const {
    std::vector<PointMm> coefficients;
    for (int r = 0; r < lattice_.rows; ++r) {
        for (int c = 0; c < lattice_.columns; ++c)
            coefficients.push_back({solution_[unknown(c, r, 0)], solution_[unknown(c, r, 1)]});
    }
    auto made = BsplineDisplacement::make(lattice_.origin, lattice_.spacing, lattice_.columns, lattice_.rows,
                                          std::move(coefficients));
    if (!made) throw std::logic_error(made.error().message);
    return *std::move(made);
}

void SmoothingField::invert() {
    inverse_ = matrix_.inverse_within_band();
}

std::array<double, 3> SmoothingField::covariance(PointPx at) const {
    const Support s = support(at);
    std::array<double, 16> basis{};
    std::array<std::size_t, 16> first{};
    for (std::size_t k = 0; k < 16; ++k) {
        basis[k] = s.along_x[k % 4] * s.along_y[k / 4];
        first[k] = unknown(s.column + static_cast<int>(k % 4), s.row + static_cast<int>(k / 4), 0);
    }
    std::array<double, 3> covariance{};
    for (std::size_t a = 0; a < 16; ++a) {
        for (std::size_t b = 0; b < 16; ++b) {
            const double product = basis[a] * basis[b];
            covariance[0] += product * inverse_.symmetric(first[a], first[b]);
            covariance[1] += product * inverse_.symmetric(first[a], first[b] + 1);
            covariance[2] += product * inverse_.symmetric(first[a] + 1, first[b] + 1);
        }
    }
    return covariance;
}

}  // namespace tedge::imaging
