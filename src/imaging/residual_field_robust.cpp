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

// How far around a knot, in cells of the lattice, observations have a say in its roughness, and how few of them have
// none. One that lies beside by more than so many times the usual is of other content, and counts for no more.
constexpr double reach_of_choice = 4.0;
constexpr double fewest_around = 6.0;
constexpr double farthest_foretold = 30.0;
constexpr double clearly_better_there = 0.4;

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
                             const std::vector<double>& roughness_px, Fit& fit) {
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

// How well the observations of either fold foretell those of the other: squared distances in units of the claimed
// deviation.
std::vector<double> foretold(const FieldLattice& lattice, const std::vector<FieldObservation>& observations,
                             const Fit& fit, double roughness_px, int workers) {
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
    for (double& each : squared) each *= fit.scale * fit.scale;
    return squared;
}

// What each choice of roughness foretold.
struct Trials {
    std::vector<std::vector<double>> squared;
    std::size_t best = 0;  // for all observations together
};

// Around every knot the choice that foretells best there, where it does so clearly better than the best of all.
std::vector<double> roughness_by_place(const FieldLattice& lattice, const std::vector<FieldObservation>& observations,
                                       const Trials& trials, double usual_squared) {
    const double reach = reach_of_choice * lattice.spacing;
    const double most = farthest_foretold * usual_squared;
    const auto knots = static_cast<std::size_t>(lattice.columns * lattice.rows);
    std::vector<double> chosen(knots, std::log(roughness_choices[trials.best]));
    for (std::size_t knot = 0; knot < knots; ++knot) {
        const auto column = static_cast<int>(knot) % lattice.columns;
        const auto row = static_cast<int>(knot) / lattice.columns;
        const PointPx at{
            std::clamp(lattice.origin.x_mm + column * lattice.spacing, lattice.origin.x_mm + 1.5 * lattice.spacing,
                       lattice.origin.x_mm + (lattice.columns - 2.5) * lattice.spacing),
            std::clamp(lattice.origin.y_mm + row * lattice.spacing, lattice.origin.y_mm + 1.5 * lattice.spacing,
                       lattice.origin.y_mm + (lattice.rows - 2.5) * lattice.spacing)};
        std::array<double, roughness_choices.size()> sums{};
        double near = 0.0;
        for (std::size_t i = 0; i < observations.size(); ++i) {
            const double x = (observations[i].at.x_px - at.x_px) / reach;
            const double y = (observations[i].at.y_px - at.y_px) / reach;
            const double r2 = x * x + y * y;
            if (r2 >= 1.0) continue;
            const double weight = (1.0 - r2) * (1.0 - r2);
            near += weight;
            for (std::size_t k = 0; k < sums.size(); ++k) sums[k] += weight * std::min(most, trials.squared[k][i]);
        }
        if (near < fewest_around) continue;
        const auto best = std::min_element(sums.begin(), sums.end());
        if (*best < clearly_better_there * sums[trials.best])
            chosen[knot] = std::log(roughness_choices[static_cast<std::size_t>(best - sums.begin())]);
    }
    // Without steps from knot to knot.
    std::vector<double> smooth(knots);
    for (int row = 0; row < lattice.rows; ++row) {
        for (int column = 0; column < lattice.columns; ++column) {
            double sum = 0.0;
            int count = 0;
            for (int r = std::max(0, row - 1); r <= std::min(lattice.rows - 1, row + 1); ++r) {
                for (int c = std::max(0, column - 1); c <= std::min(lattice.columns - 1, column + 1); ++c) {
                    sum += chosen[static_cast<std::size_t>(r * lattice.columns + c)];
                    ++count;
                }
            }
            smooth[static_cast<std::size_t>(row * lattice.columns + column)] = std::exp(sum / count);
        }
    }
    return smooth;
}

}  // namespace

// Gauss and Hermite's rule of three points in either direction.
PointMm mean_under_window(const BsplineDisplacement& field, const FieldObservation& seen) {
    constexpr std::array<double, 3> share{1.0 / 6.0, 2.0 / 3.0, 1.0 / 6.0};
    const double step = std::sqrt(3.0);
    PointMm mean{};
    for (int j = 0; j < 3; ++j) {
        for (int i = 0; i < 3; ++i) {
            const PointMm value = field.at(
                {seen.at.x_px + (i - 1) * step * seen.reach_px[0], seen.at.y_px + (j - 1) * step * seen.reach_px[1]});
            const double weight = share[static_cast<std::size_t>(i)] * share[static_cast<std::size_t>(j)];
            mean.x_mm += weight * value.x_mm;
            mean.y_mm += weight * value.y_mm;
        }
    }
    return mean;
}

void sharpen(const FieldLattice& lattice, const std::vector<FieldObservation>& observations, RobustField& field) {
    for (int time = 0; time < 2; ++time) {
        std::vector<FieldObservation> moved = rescaled(observations, field.scale);
        for (FieldObservation& each : moved) {
            const PointMm middle = field.displacement.at({each.at.x_px, each.at.y_px});
            const PointMm mean = mean_under_window(field.displacement, each);
            each.dx += middle.x_mm - mean.x_mm;
            each.dy += middle.y_mm - mean.y_mm;
        }
        field.displacement = SmoothingField(lattice, moved, field.weights, field.roughness_of).displacement();
    }
}

std::optional<RobustField> fit_robust_field(const FieldLattice& lattice,
                                            const std::vector<FieldObservation>& observations, int workers,
                                            const Progress& progress) {
    if (observations.size() < fewest_observations) return std::nullopt;
    Fit fit;
    fit.weights.assign(observations.size(), 1.0);
    Fit best = fit;
    Trials trials;
    double smallest = std::numeric_limits<double>::infinity();
    // From stiff to supple: outliers lose their weight before the field could bend to them.
    for (std::size_t k = 0; k < roughness_choices.size(); ++k) {
        if (progress.stopped()) return std::nullopt;
        for (int step = 0; step < 2 && !progress.stopped(); ++step)
            reweight_roughly(lattice, observations, roughness_choices[k], fit);
        if (progress.stopped()) return std::nullopt;
        trials.squared.push_back(foretold(lattice, observations, fit, roughness_choices[k], workers));
        const double error = trimmed_mean(trials.squared.back()) / (fit.scale * fit.scale);
        if (error < 0.99 * smallest) {
            smallest = error;
            best = fit;
            trials.best = k;
        }
    }
    std::vector<double> roughness =
        roughness_by_place(lattice, observations, trials, smallest * best.scale * best.scale);
    std::optional<BsplineDisplacement> field;
    for (int step = 0; step < 3; ++step) {
        if (progress.stopped()) return std::nullopt;
        field = reweight(lattice, observations, roughness, best);
    }
    return RobustField{*std::move(field), best.weights, best.scale, roughness_choices[trials.best],
                       std::move(roughness)};
}

}  // namespace tedge::imaging
