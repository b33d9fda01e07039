#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "registration_workers.hpp"
#include "residual_field.hpp"

namespace tedge::imaging {
namespace {

constexpr std::size_t fewest_observations = 8;

// Weights fall as those of a Student distribution with few degrees of freedom, 1 / (1 + (r / 3)²), r in deviations:
// where the deviations claimed were too small over a whole passage, it still holds its place. Beyond the cut-off they
// are nothing.
constexpr double shoulder = 3.0;
constexpr double cut_off = 12.0;

// The median of the squared distance of a two-dimensional normal error: 2·ln 2.
constexpr double median_squared_distance = 1.3862943611198906;

// Deviations of a second difference over one lattice cell that are tried, pixels of the reference. Near enough to each
// other that the covariance of the fit, which takes the chosen one for the truth, is not far off.
constexpr std::array<double, 9> roughness_choices{0.01, 0.022, 0.05, 0.11, 0.25, 0.55, 1.2, 2.7, 6.0};

// An observation that the fit could follow altogether foretells nothing; its distance is not blown up beyond this.
constexpr double smallest_freedom = 0.1;

double median(std::vector<double> values) {
    if (values.empty()) return 0.0;
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

double quadratic(const std::array<double, 3>& matrix, double x, double y) {
    return matrix[0] * x * x + 2.0 * matrix[1] * x * y + matrix[2] * y * y;
}

std::vector<FieldObservation> rescaled(std::vector<FieldObservation> observations, double scale) {
    for (FieldObservation& each : observations) {
        for (double& value : each.information) value /= scale * scale;
    }
    return observations;
}

std::vector<double> robust_weights(const std::vector<double>& squared, double scale) {
    std::vector<double> weights;
    weights.reserve(squared.size());
    for (const double each : squared) {
        const double r2 = each / (scale * scale);
        weights.push_back(r2 > cut_off * cut_off ? 0.0 : 1.0 / (1.0 + r2 / (shoulder * shoulder)));
    }
    return weights;
}

// Mean of the smaller three quarters: what the good observations say.
double trimmed_mean(std::vector<double> values) {
    std::sort(values.begin(), values.end());
    const std::size_t count = std::max<std::size_t>(1, values.size() * 3 / 4);
    double sum = 0.0;
    for (std::size_t i = 0; i < count; ++i) sum += values[i];
    return sum / static_cast<double>(count);
}

struct Fit {
    std::vector<double> weights;
    double scale = 3.0;
};

// Takes the scale and the weights from the residuals, which are in units of the claimed deviation.
void weigh(const std::vector<double>& squared, Fit& fit) {
    // The claimed deviations are lower bounds, so the scale does not fall below one.
    fit.scale = std::max(1.0, std::sqrt(median(squared) / median_squared_distance));
    fit.weights = robust_weights(squared, fit.scale);
}

double squared_distance(const BsplineDisplacement& field, const FieldObservation& seen) {
    const PointMm value = field.at({seen.at.x_px, seen.at.y_px});
    return quadratic(seen.information, seen.dx - value.x_mm, seen.dy - value.y_mm);
}

// One step of iteratively reweighted least squares, quick: as if the fit had taken no freedom from the residuals.
void reweight_roughly(const FieldLattice& lattice, const std::vector<FieldObservation>& observations,
                      double roughness_px, Fit& fit) {
    const BsplineDisplacement field =
        SmoothingField(lattice, rescaled(observations, fit.scale), fit.weights, roughness_px).displacement();
    std::vector<double> squared;
    for (const FieldObservation& seen : observations) squared.push_back(squared_distance(field, seen));
    weigh(squared, fit);
}

// The same with every residual divided by the freedom that the fit has left it.
BsplineDisplacement reweight(const FieldLattice& lattice, const std::vector<FieldObservation>& observations,
                             double roughness_px, Fit& fit) {
    const std::vector<FieldObservation> scaled = rescaled(observations, fit.scale);
    SmoothingField fitted(lattice, scaled, fit.weights, roughness_px);
    fitted.invert();
    BsplineDisplacement field = fitted.displacement();
    std::vector<double> squared;
    for (std::size_t i = 0; i < observations.size(); ++i) {
        const auto c = fitted.covariance(observations[i].at);
        const auto& w = scaled[i].information;
        const double leverage = 0.5 * fit.weights[i] * (w[0] * c[0] + 2.0 * w[1] * c[1] + w[2] * c[2]);
        squared.push_back(squared_distance(field, observations[i]) / std::max(smallest_freedom, 1.0 - leverage));
    }
    weigh(squared, fit);
    return field;
}

// How well the observations of either fold foretell those of the other.
double foretold(const FieldLattice& lattice, const std::vector<FieldObservation>& observations, const Fit& fit,
                double roughness_px, int workers) {
    const std::vector<FieldObservation> scaled = rescaled(observations, fit.scale);
    std::vector<double> squared(observations.size());
    for_each_index(
        2, workers, [] { return false; },
        [&](int fold, int) {
            std::vector<double> training = fit.weights;
            for (std::size_t i = 0; i < training.size(); ++i) {
                if (observations[i].fold == fold) training[i] = 0.0;
            }
            const BsplineDisplacement field = SmoothingField(lattice, scaled, training, roughness_px).displacement();
            for (std::size_t i = 0; i < training.size(); ++i) {
                if (observations[i].fold == fold) squared[i] = squared_distance(field, observations[i]);
            }
        });
    return trimmed_mean(std::move(squared));
}

}  // namespace

std::optional<RobustField> fit_robust_field(const FieldLattice& lattice,
                                            const std::vector<FieldObservation>& observations, int workers,
                                            const Progress& progress) {
    if (observations.size() < fewest_observations) return std::nullopt;
    Fit fit;
    fit.weights.assign(observations.size(), 1.0);
    Fit best = fit;
    double roughness = roughness_choices.front();
    double smallest = std::numeric_limits<double>::infinity();
    // From stiff to supple: outliers lose their weight before the field could bend to them.
    for (const double choice : roughness_choices) {
        if (progress.stopped()) return std::nullopt;
        for (int step = 0; step < 2; ++step) reweight_roughly(lattice, observations, choice, fit);
        const double error = foretold(lattice, observations, fit, choice, workers);
        if (error < 0.99 * smallest) {
            smallest = error;
            best = fit;
            roughness = choice;
        }
    }
    std::optional<BsplineDisplacement> field;
    for (int step = 0; step < 3; ++step) {
        if (progress.stopped()) return std::nullopt;
        field = reweight(lattice, observations, roughness, best);
    }
    return RobustField{*std::move(field), best.weights, best.scale, roughness};
}

}  // namespace tedge::imaging
