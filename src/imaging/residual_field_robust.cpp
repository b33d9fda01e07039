#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "residual_field.hpp"

namespace tedge::imaging {
namespace {

constexpr std::size_t fewest_observations = 8;

// Tukey's biweight reaches 0 at this many deviations. For normal errors 4.685 keeps 95 % efficiency in one dimension
// (handbook value, from memory); the distance in two dimensions is a little longer, so 5.
constexpr double cut_off = 5.0;

// The median of the squared distance of a two-dimensional normal error: 2·ln 2.
constexpr double median_squared_distance = 1.3862943611198906;

// Deviations of a second difference over one lattice cell that are tried, pixels of the reference.
constexpr std::array<double, 7> roughness_choices{0.003, 0.01, 0.03, 0.1, 0.3, 1.0, 3.0};
constexpr double first_roughness = 0.1;

double median(std::vector<double> values) {
    if (values.empty()) return 0.0;
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

// Squared residual in units of the deviation that the information claims.
std::vector<double> squared_distances(const BsplineDisplacement& field,
                                      const std::vector<FieldObservation>& observations) {
    std::vector<double> squared;
    squared.reserve(observations.size());
    for (const FieldObservation& each : observations) {
        const PointMm fitted = field.at({each.at.x_px, each.at.y_px});
        const double dx = each.dx - fitted.x_mm;
        const double dy = each.dy - fitted.y_mm;
        squared.push_back(each.information[0] * dx * dx + 2.0 * each.information[1] * dx * dy +
                          each.information[2] * dy * dy);
    }
    return squared;
}

std::vector<double> tukey_weights(const std::vector<double>& squared, double scale) {
    std::vector<double> weights;
    weights.reserve(squared.size());
    for (const double each : squared) {
        const double t = each / (cut_off * cut_off * scale * scale);
        weights.push_back(t >= 1.0 ? 0.0 : (1.0 - t) * (1.0 - t));
    }
    return weights;
}

std::vector<FieldObservation> rescaled(std::vector<FieldObservation> observations, double scale) {
    for (FieldObservation& each : observations) {
        for (double& value : each.information) value /= scale * scale;
    }
    return observations;
}

struct Fit {
    BsplineDisplacement field;
    std::vector<double> weights;
    double scale;
};

// Iteratively reweighted least squares from the given weights, scale estimated anew at every step.
Fit reweighted(const FieldLattice& lattice, const std::vector<FieldObservation>& observations,
               const std::vector<double>& start, double scale, double roughness_px, int steps) {
    std::vector<double> weights = start;
    while (true) {
        const SmoothingField fitted(lattice, rescaled(observations, scale), weights, roughness_px);
        BsplineDisplacement field = fitted.displacement();
        const std::vector<double> squared = squared_distances(field, observations);
        std::vector<double> kept;
        for (std::size_t i = 0; i < squared.size(); ++i) {
            if (start[i] > 0.0) kept.push_back(squared[i]);
        }
        scale = std::max(0.05, std::sqrt(median(std::move(kept)) / median_squared_distance));
        weights = tukey_weights(squared, scale);
        for (std::size_t i = 0; i < weights.size(); ++i) {
            if (start[i] <= 0.0) weights[i] = 0.0;
        }
        if (--steps <= 0) return {std::move(field), std::move(weights), scale};
    }
}

// Blocks in a checkerboard: 0 or 1.
int fold_of(double block_px, PointPx at) {
    const auto block = [&](double value) { return static_cast<int>(std::floor(value / block_px)); };
    return (block(at.x_px) + block(at.y_px)) & 1;
}

// Robust mean of the held-out squared distances under the given roughness.
double held_out(const FieldLattice& lattice, const std::vector<FieldObservation>& observations,
                const std::vector<double>& weights, double scale, double roughness_px, double block_px) {
    double sum = 0.0;
    double count = 0.0;
    for (int fold = 0; fold < 2; ++fold) {
        std::vector<double> training = weights;
        for (std::size_t i = 0; i < weights.size(); ++i) {
            if (fold_of(block_px, observations[i].at) == fold) training[i] = 0.0;
        }
        const SmoothingField fitted(lattice, rescaled(observations, scale), training, roughness_px);
        const std::vector<double> squared = squared_distances(fitted.displacement(), observations);
        for (std::size_t i = 0; i < weights.size(); ++i) {
            if (weights[i] <= 0.0 || training[i] > 0.0) continue;
            sum += weights[i] * std::min(squared[i], cut_off * cut_off * scale * scale);
            count += weights[i];
        }
    }
    return count > 0.0 ? sum / count : std::numeric_limits<double>::infinity();
}

}  // namespace

std::optional<RobustField> fit_robust_field(const FieldLattice& lattice,
                                            const std::vector<FieldObservation>& observations, double block_px) {
    if (observations.size() < fewest_observations) return std::nullopt;
    const std::vector<double> all(observations.size(), 1.0);
    // A stiff field first, so that no outlier can bend it to itself.
    Fit fit = reweighted(lattice, observations, all, 3.0, first_roughness, 6);
    double best = std::numeric_limits<double>::infinity();
    double roughness = first_roughness;
    for (const double choice : roughness_choices) {
        const double error = held_out(lattice, observations, fit.weights, fit.scale, choice, block_px);
        if (error < best * 0.995) {
            best = error;
            roughness = choice;
        }
    }
    fit = reweighted(lattice, observations, all, fit.scale, roughness, 4);
    return RobustField{std::move(fit.field), std::move(fit.weights), fit.scale, roughness};
}

}  // namespace tedge::imaging
