// Weighted least squares in XYZ, then Levenberg–Marquardt on ΔE00 itself. Seen from ΔE00 a single patch that cannot be
// met (glare on black) shall not bend the others: errors count by their size, below half a unit by its square.
#include "colour_model.hpp"

#include <algorithm>
#include <cmath>
#include <opencv2/core.hpp>

namespace tedge::imaging {
namespace {

using Coefficients = std::array<double, 18>;

constexpr double small_error = 0.5;  // ΔE00
constexpr int most_rounds = 40;

std::array<double, 6> terms_of(const Rgb& rgb) {
    const double r = std::max(0.0, rgb.r);
    const double g = std::max(0.0, rgb.g);
    const double b = std::max(0.0, rgb.b);
    return {rgb.r, rgb.g, rgb.b, std::sqrt(r * g), std::sqrt(g * b), std::sqrt(r * b)};
}

int terms_in(ColourModel model) {
    return model == ColourModel::matrix ? 3 : 6;
}

// Coefficient k of the model, counted without the terms that a matrix lacks.
std::size_t place_of(int k, int terms) {
    return static_cast<std::size_t>(k / terms) * 6 + static_cast<std::size_t>(k % terms);
}

std::optional<Coefficients> by_least_squares(std::span<const FitPatch> patches, int terms) {
    const int count = static_cast<int>(patches.size());
    cv::Mat left(count, terms, CV_64F);
    cv::Mat right(count, 3, CV_64F);
    for (int i = 0; i < count; ++i) {
        const FitPatch& patch = patches[static_cast<std::size_t>(i)];
        const Xyz xyz = xyz_from_lab(patch.reference);
        const double weight = 1.0 / std::sqrt(xyz.y + 0.02);
        const auto values = terms_of(patch.balanced);
        for (int t = 0; t < terms; ++t) left.at<double>(i, t) = values[static_cast<std::size_t>(t)] * weight;
        right.at<double>(i, 0) = xyz.x * weight;
        right.at<double>(i, 1) = xyz.y * weight;
        right.at<double>(i, 2) = xyz.z * weight;
    }
    cv::Mat singular;
    cv::SVD::compute(left, singular, cv::SVD::NO_UV);
    if (count < terms || !(singular.at<double>(terms - 1) > 1e-6 * singular.at<double>(0))) return std::nullopt;
    cv::Mat solution;
    if (!cv::solve(left, right, solution, cv::DECOMP_SVD)) return std::nullopt;
    Coefficients out{};
    for (int axis = 0; axis < 3; ++axis)
        for (int t = 0; t < terms; ++t)
            out[static_cast<std::size_t>(axis) * 6 + static_cast<std::size_t>(t)] = solution.at<double>(t, axis);
    return out;
}

std::vector<double> errors_of(std::span<const FitPatch> patches, const Coefficients& coefficients) {
    std::vector<double> out;
    out.reserve(patches.size());
    for (const FitPatch& patch : patches)
        out.push_back(delta_e00(lab_from_xyz(modelled(coefficients, patch.balanced)), patch.reference));
    return out;
}

double cost(const std::vector<double>& errors) {
    double sum = 0.0;
    for (const double e : errors) sum += e < small_error ? 0.5 * e * e / small_error : e - 0.5 * small_error;
    return sum;
}

// One normal system: slopes of every patch's error by every coefficient, weighted so that errors count by size.
struct Normal {
    cv::Mat curvature;
    cv::Mat gradient;
};

Normal normal_system(std::span<const FitPatch> patches, const Coefficients& at, const std::vector<double>& errors,
                     int terms) {
    const int count = 3 * terms;
    cv::Mat slopes(static_cast<int>(patches.size()), count, CV_64F);
    for (int k = 0; k < count; ++k) {
        constexpr double step = 1e-6;
        Coefficients moved = at;
        moved[place_of(k, terms)] += step;
        const auto there = errors_of(patches, moved);
        for (std::size_t i = 0; i < there.size(); ++i)
            slopes.at<double>(static_cast<int>(i), k) = (there[i] - errors[i]) / step;
    }
    Normal out{cv::Mat::zeros(count, count, CV_64F), cv::Mat::zeros(count, 1, CV_64F)};
    for (int i = 0; i < slopes.rows; ++i) {
        const double error = errors[static_cast<std::size_t>(i)];
        const cv::Mat slope = slopes.row(i);
        const double weight = 1.0 / std::max(error, small_error);
        out.curvature += weight * (slope.t() * slope);
        out.gradient += weight * error * slope.t();
    }
    return out;
}

Coefficients stepped(const Coefficients& at, const Normal& normal, double damping, int terms) {
    cv::Mat damped = normal.curvature.clone();
    for (int k = 0; k < damped.rows; ++k) damped.at<double>(k, k) = damped.at<double>(k, k) * (1.0 + damping) + 1e-9;
    cv::Mat step;
    Coefficients out = at;
    if (!cv::solve(damped, normal.gradient, step, cv::DECOMP_CHOLESKY)) return out;
    for (int k = 0; k < step.rows; ++k) out[place_of(k, terms)] -= step.at<double>(k);
    return out;
}

}  // namespace

Xyz modelled(const std::array<double, 18>& coefficients, const Rgb& balanced) {
    const auto terms = terms_of(balanced);
    std::array<double, 3> out{};
    for (std::size_t axis = 0; axis < 3; ++axis)
        for (std::size_t t = 0; t < 6; ++t) out[axis] += coefficients[axis * 6 + t] * terms[t];
    return {out[0], out[1], out[2]};
}

std::optional<std::array<double, 18>> fitted_coefficients(std::span<const FitPatch> patches, ColourModel model) {
    const int terms = terms_in(model);
    auto best = by_least_squares(patches, terms);
    if (!best) return std::nullopt;
    auto errors = errors_of(patches, *best);
    double damping = 1e-2;
    for (int round = 0; round < most_rounds && damping < 1e8; ++round) {
        const Normal normal = normal_system(patches, *best, errors, terms);
        bool better = false;
        for (; !better && damping < 1e8; damping *= 8.0) {
            const Coefficients tried = stepped(*best, normal, damping, terms);
            auto there = errors_of(patches, tried);
            if (!(cost(there) < cost(errors))) continue;
            const bool settled = cost(errors) - cost(there) < 1e-7 * cost(errors);
            best = tried;
            errors = std::move(there);
            if (settled) return best;
            damping /= 64.0;
            better = true;
        }
        damping = std::max(damping, 1e-6);
    }
    return best;
}

}  // namespace tedge::imaging
