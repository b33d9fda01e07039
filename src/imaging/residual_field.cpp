#include "residual_field.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace tedge::imaging {
namespace {

// Keeps the equations solvable where neither a tile nor its neighbours say anything: pulls gently to zero.
constexpr double pull_to_zero = 1e-6;

}  // namespace

FieldLattice lattice_over(SizePx picture, int cells) {
    FieldLattice lattice;
    const double width = picture.width_px - 1;
    const double height = picture.height_px - 1;
    lattice.spacing = std::max(1.0, std::max(width, height) / cells);
    const int cells_x = std::max(1, static_cast<int>(std::ceil(width / lattice.spacing - 1e-9)));
    const int cells_y = std::max(1, static_cast<int>(std::ceil(height / lattice.spacing - 1e-9)));
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
    : lattice_(lattice),
      along_rows_(lattice.columns <= lattice.rows),
      unknowns_(static_cast<std::size_t>(2 * lattice.columns * lattice.rows)),
      bandwidth_(static_cast<std::size_t>(2 * (3 * std::min(lattice.columns, lattice.rows) + 3) + 1)),
      matrix_(unknowns_ * (bandwidth_ + 1)),
      solution_(unknowns_) {
    for (std::size_t i = 0; i < observations.size(); ++i) {
        if (weights[i] > 0.0) add_observation(observations[i], weights[i]);
    }
    add_roughness(1.0 / (roughness_px * roughness_px));
    factorise();
    solve_lower(solution_);
    solve_upper(solution_);
}

// Numbered along the shorter side, which keeps the band narrow.
std::size_t SmoothingField::unknown(int column, int row, int component) const {
    const int knot = along_rows_ ? row * lattice_.columns + column : column * lattice_.rows + row;
    return static_cast<std::size_t>(2 * knot + component);
}

double& SmoothingField::entry(std::size_t row, std::size_t column) {
    return matrix_[row * (bandwidth_ + 1) + bandwidth_ + column - row];
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
        solution_[first[k]] += weight * basis[k] * right_x;
        solution_[first[k] + 1] += weight * basis[k] * right_y;
    }
    for (std::size_t a = 0; a < 16; ++a) {
        for (std::size_t b = 0; b < 16; ++b) {
            if (first[b] > first[a]) continue;
            const double product = weight * basis[a] * basis[b];
            entry(first[a], first[b]) += product * w[0];
            entry(first[a] + 1, first[b]) += product * w[1];
            entry(first[a] + 1, first[b] + 1) += product * w[2];
            if (first[b] < first[a]) entry(first[a], first[b] + 1) += product * w[1];
        }
    }
}

void SmoothingField::add_roughness(double information) {
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
                    if (j <= i) entry(i, j) += weight * a.factor * b.factor;
                }
            }
        }
    };
    for (int r = 0; r < lattice_.rows; ++r) {
        for (int c = 0; c < lattice_.columns; ++c) {
            if (c + 2 < lattice_.columns) add({{c, r, 1.0}, {c + 1, r, -2.0}, {c + 2, r, 1.0}}, information);
            if (r + 2 < lattice_.rows) add({{c, r, 1.0}, {c, r + 1, -2.0}, {c, r + 2, 1.0}}, information);
            if (c + 1 < lattice_.columns && r + 1 < lattice_.rows)
                add({{c, r, 1.0}, {c + 1, r, -1.0}, {c, r + 1, -1.0}, {c + 1, r + 1, 1.0}}, 2.0 * information);
            add({{c, r, 1.0}}, pull_to_zero * information);
        }
    }
}

void SmoothingField::factorise() {
    const std::size_t row_length = bandwidth_ + 1;
    for (std::size_t i = 0; i < unknowns_; ++i) {
        const std::size_t first = i > bandwidth_ ? i - bandwidth_ : 0;
        double* row = matrix_.data() + i * row_length + bandwidth_ - i;  // row[j] is entry (i, j)
        for (std::size_t j = first; j <= i; ++j) {
            const double* other = matrix_.data() + j * row_length + bandwidth_ - j;
            const std::size_t from = std::max(first, j > bandwidth_ ? j - bandwidth_ : 0);
            double sum = row[j];
            for (std::size_t k = from; k < j; ++k) sum -= row[k] * other[k];
            if (j < i) {
                row[j] = sum / other[j];
            } else {
                if (!(sum > 0.0)) throw std::logic_error("the smoothing equations are not positive definite");
                row[j] = std::sqrt(sum);
            }
        }
    }
}

void SmoothingField::solve_lower(std::vector<double>& right) const {
    for (std::size_t i = 0; i < unknowns_; ++i) {
        const std::size_t first = i > bandwidth_ ? i - bandwidth_ : 0;
        const double* row = matrix_.data() + i * (bandwidth_ + 1) + bandwidth_ - i;
        double sum = right[i];
        for (std::size_t j = first; j < i; ++j) sum -= row[j] * right[j];
        right[i] = sum / row[i];
    }
}

void SmoothingField::solve_upper(std::vector<double>& right) const {
    for (std::size_t i = unknowns_; i-- > 0;) {
        const std::size_t first = i > bandwidth_ ? i - bandwidth_ : 0;
        const double* row = matrix_.data() + i * (bandwidth_ + 1) + bandwidth_ - i;
        right[i] /= row[i];
        for (std::size_t j = first; j < i; ++j) right[j] -= row[j] * right[i];
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

std::array<double, 3> SmoothingField::covariance(PointPx at) const {
    const Support s = support(at);
    std::array<std::vector<double>, 2> solved;
    for (int component = 0; component < 2; ++component) {
        std::vector<double>& right = solved[static_cast<std::size_t>(component)];
        right.assign(unknowns_, 0.0);
        for (std::size_t k = 0; k < 16; ++k) {
            const std::size_t i =
                unknown(s.column + static_cast<int>(k % 4), s.row + static_cast<int>(k / 4), component);
            right[i] = s.along_x[k % 4] * s.along_y[k / 4];
        }
        solve_lower(right);
    }
    std::array<double, 3> covariance{};
    for (std::size_t i = 0; i < unknowns_; ++i) {
        covariance[0] += solved[0][i] * solved[0][i];
        covariance[1] += solved[0][i] * solved[1][i];
        covariance[2] += solved[1][i] * solved[1][i];
    }
    return covariance;
}

}  // namespace tedge::imaging
