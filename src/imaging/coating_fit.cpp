#include "coating_fit.hpp"

#include <algorithm>
#include <cmath>
#include <opencv2/core.hpp>
#include <utility>

namespace tedge::imaging {
namespace {

constexpr double black_paint = 0.015;  // of the light of white; common practice
constexpr double black_paint_deviation = 0.012;
constexpr double least_residual = 0.4;   // units of L*: rounding to eight bits, a coat never quite as the model
constexpr double thickness_prior = 0.3;  // deviation between patches before anything is seen
// What coats that one wants to take off absorb: wide, for it only holds what nothing tells. Common practice.
constexpr Light3 absorption_expected{0.3, 0.5, 0.9};
constexpr double absorption_prior = 0.6;
// Dirt and aged varnish absorb the more the shorter the wavelength; this far the other way round is already strange.
constexpr double falling_absorption = 0.1;
constexpr double crosstalk_prior = 0.03;
constexpr double places_alike = 9.0;  // places that err together, for they show the same strokes
constexpr int most_steps = 40;
constexpr int steps_between_looks = 4;                           // at the scale of what is left over
constexpr std::size_t A = 0, V = 3, M = 6, T = coat_parameters;  // where each begins among the parameters

// L* without its straight part near black, where noise alone would speak; straight on below black.
double lightness(double light) {
    constexpr double beside = 0.003;
    static const double at_black = 116.0 * std::cbrt(blackest_light + beside);
    static const double slope = 116.0 / 3.0 / std::pow(blackest_light + beside, 2.0 / 3.0);
    if (light < blackest_light) return at_black + slope * (light - blackest_light);
    return 116.0 * std::cbrt(light + beside);
}

Coat coat_from(const std::vector<double>& at) {
    CoatParameters values{};
    std::copy_n(at.begin(), coat_parameters, values.begin());
    return coat_of(values);
}

class Fit {
public:
    Fit(const std::vector<SeenTwice>& places, std::size_t patches, const Light3& darkest)
        : places_(places), darkest_(darkest), at_(T + patches, 1.0) {
        std::fill_n(at_.begin(), T, 0.0);
        for (std::size_t c = 0; c < 3; ++c) {
            at_[V + c] = 0.7 * darkest_[c];
            at_[A + c] = std::max(first_absorption(c), c == 0 ? 0.0 : at_[A + c - 1]);
        }
    }

    FittedCoat run() {
        double damping = 1e-3;
        double cost = 0.0;
        for (int step = 0; step < most_steps; ++step) {
            if (step % steps_between_looks == 0) {
                look_again();
                cost = cost_of(residuals(at_), at_);
            }
            const double before = cost;
            if (!improve(cost, damping)) break;
            if (step > 2 * steps_between_looks && before - cost < 1e-6 * before) break;
        }
        look_again();
        return answer();
    }

private:
    struct Normal {
        cv::Mat matrix;
        cv::Mat gradient;
    };

    [[nodiscard]] double first_absorption(std::size_t c) const {
        double before = 0.0;
        double after = 0.0;
        for (const SeenTwice& each : places_) {
            before += std::max(blackest_light, each.uncleaned[c] - at_[V + c]);
            after += each.cleaned[c];
        }
        return std::clamp(std::log(after / before), 0.0, 4.0);
    }

    // The scale of what is left over, and the veil that the darkest of the picture speaks for: nearly black paint
    // shows through it as far as the coat lets it.
    void look_again() {
        const auto left = residuals(at_);
        for (std::size_t c = 0; c < 3; ++c) {
            scale_[c] = robust_scale(left, c);
            const double through = std::exp(-at_[A + c]);
            veil_expected_[c] = std::max(0.0, darkest_[c] - black_paint * through);
            veil_prior_[c] = black_paint_deviation * through + 0.1 * darkest_[c];
        }
    }

    [[nodiscard]] std::vector<Light3> residuals(const std::vector<double>& at) const {
        const Coat coat = coat_from(at);
        std::vector<CoatThere> there;
        for (std::size_t i = T; i < at.size(); ++i) there.emplace_back(coat, at[i]);
        std::vector<Light3> left(places_.size());
        for (std::size_t i = 0; i < places_.size(); ++i) {
            const SeenTwice& each = places_[i];
            const Light3 paint = there[each.patch].solved(each.uncleaned);
            const double apart = std::hypot(1.0, each.misfit / least_residual);
            for (std::size_t c = 0; c < 3; ++c) left[i][c] = (lightness(paint[c]) - lightness(each.cleaned[c])) / apart;
        }
        return left;
    }

    [[nodiscard]] static double robust_scale(const std::vector<Light3>& left, std::size_t c) {
        std::vector<double> sizes;
        for (const Light3& each : left) sizes.push_back(std::abs(each[c]));
        const auto middle = sizes.begin() + static_cast<std::ptrdiff_t>(sizes.size() / 2);
        std::nth_element(sizes.begin(), middle, sizes.end());
        return std::max(least_residual, 1.4826 * *middle);
    }

    // Of Cauchy's distribution: specks of dirt left behind and retouching count for little.
    [[nodiscard]] double unusual(double r, std::size_t c) const {
        const double u = r / (2.4 * scale_[c]);
        return u * u;
    }

    [[nodiscard]] double cost_of(const std::vector<Light3>& left, const std::vector<double>& at) const {
        double cost = 0.0;
        for (const Light3& each : left)
            for (std::size_t c = 0; c < 3; ++c) cost += 2.4 * 2.4 * std::log1p(unusual(each[c], c)) / places_alike;
        for (std::size_t i = 0; i < at.size(); ++i) {
            const auto [middle, deviation] = prior(i);
            cost += (at[i] - middle) * (at[i] - middle) / (deviation * deviation);
        }
        for (std::size_t c = 0; c < 2; ++c) {
            const double falls = std::max(0.0, at[A + c] - at[A + c + 1]) / falling_absorption;
            cost += falls * falls;
        }
        return cost;
    }

    [[nodiscard]] std::pair<double, double> prior(std::size_t i) const {
        if (i < V) return {absorption_expected[i - A], absorption_prior};
        if (i < M) return {veil_expected_[i - V], veil_prior_[i - V]};
        if (i < T) return {0.0, crosstalk_prior};
        return {1.0, thickness_prior};
    }

    [[nodiscard]] std::vector<std::vector<Light3>> slopes(const std::vector<Light3>& left) const {
        constexpr double h = 1e-5;
        std::vector<std::vector<Light3>> all;
        auto at = at_;
        // All patches at once: a place depends on its own alone.
        for (std::size_t i = 0; i <= T; ++i) {
            for (std::size_t k = i; k < (i < T ? i + 1 : at.size()); ++k) at[k] += h;
            auto moved = residuals(at);
            for (std::size_t k = i; k < (i < T ? i + 1 : at.size()); ++k) at[k] = at_[k];
            for (std::size_t k = 0; k < moved.size(); ++k)
                for (std::size_t c = 0; c < 3; ++c) moved[k][c] = (moved[k][c] - left[k][c]) / h;
            all.push_back(std::move(moved));
        }
        return all;
    }

    [[nodiscard]] Normal normal() const {
        const int n = static_cast<int>(at_.size());
        Normal out{cv::Mat::zeros(n, n, CV_64F), cv::Mat::zeros(n, 1, CV_64F)};
        const auto left = residuals(at_);
        const auto slope = slopes(left);
        for (std::size_t k = 0; k < left.size(); ++k)
            for (std::size_t c = 0; c < 3; ++c) {
                const double w = 1.0 / ((1.0 + unusual(left[k][c], c)) * scale_[c] * scale_[c] * places_alike);
                const auto index = [&](std::size_t i) { return static_cast<int>(i < T ? i : T + places_[k].patch); };
                for (std::size_t i = 0; i <= T; ++i) {
                    out.gradient.at<double>(index(i)) += w * slope[i][k][c] * left[k][c];
                    for (std::size_t j = 0; j <= T; ++j)
                        out.matrix.at<double>(index(i), index(j)) += w * slope[i][k][c] * slope[j][k][c];
                }
            }
        for (int i = 0; i < n; ++i) {
            const auto [middle, deviation] = prior(static_cast<std::size_t>(i));
            out.matrix.at<double>(i, i) += 1.0 / (deviation * deviation);
            out.gradient.at<double>(i) += (at_[static_cast<std::size_t>(i)] - middle) / (deviation * deviation);
        }
        for (std::size_t c = 0; c < 2; ++c) hold_up(out, A + c);
        return out;
    }

    // Pulls the absorption of a channel and of the next one together where it falls.
    void hold_up(Normal& out, std::size_t at) const {
        const double falls = at_[at] - at_[at + 1];
        if (falls <= 0.0) return;
        const double weight = 1.0 / (falling_absorption * falling_absorption);
        const int i = static_cast<int>(at);
        out.gradient.at<double>(i) += weight * falls;
        out.gradient.at<double>(i + 1) -= weight * falls;
        out.matrix.at<double>(i, i) += weight;
        out.matrix.at<double>(i + 1, i + 1) += weight;
        out.matrix.at<double>(i, i + 1) -= weight;
        out.matrix.at<double>(i + 1, i) -= weight;
    }

    // One step of Levenberg and Marquardt; false where none makes it better.
    [[nodiscard]] bool improve(double& cost, double& damping) {
        const Normal here = normal();
        for (int attempt = 0; attempt < 6; ++attempt) {
            const auto next = stepped(here, damping);
            const double next_cost = cost_of(residuals(next), next);
            if (next_cost < cost) {
                at_ = next;
                cost = next_cost;
                damping *= 0.3;
                return true;
            }
            damping *= 5.0;
        }
        return false;
    }

    [[nodiscard]] std::vector<double> stepped(const Normal& here, double damping) const {
        cv::Mat damped = here.matrix.clone();
        for (int i = 0; i < damped.rows; ++i) damped.at<double>(i, i) *= 1.0 + damping;
        cv::Mat step;
        auto next = at_;
        if (!cv::solve(damped, here.gradient, step, cv::DECOMP_CHOLESKY)) return next;
        for (std::size_t i = 0; i < next.size(); ++i) next[i] -= step.at<double>(static_cast<int>(i));
        for (std::size_t c = 0; c < 3; ++c) {
            next[A + c] = std::clamp(next[A + c], 0.0, 5.0);
            // Noise makes the darkest a little darker than the veil.
            next[V + c] = std::clamp(next[V + c], 0.0, 1.2 * darkest_[c] + 0.002);
        }
        for (std::size_t i = T; i < next.size(); ++i) next[i] = std::clamp(next[i], 0.05, 4.0);
        return next;
    }

    [[nodiscard]] FittedCoat answer() const {
        FittedCoat out;
        out.thickness.assign(at_.begin() + T, at_.end());
        std::copy_n(at_.begin(), coat_parameters, out.values.begin());
        out.coat = coat_of(out.values);
        const Normal here = normal();
        for (int i = static_cast<int>(T); i < here.matrix.rows; ++i)
            out.thickness_sd.push_back(1.0 / std::sqrt(here.matrix.at<double>(i, i)));
        const cv::Mat covariance = here.matrix.inv(cv::DECOMP_CHOLESKY);
        cv::Mat values, vectors;
        cv::eigen(covariance(cv::Rect(0, 0, static_cast<int>(T), static_cast<int>(T))).clone(), values, vectors);
        for (int i = 0; i < static_cast<int>(T); ++i)
            for (int j = 0; j < static_cast<int>(T); ++j)
                out.ways[static_cast<std::size_t>(i)][static_cast<std::size_t>(j)] =
                    std::sqrt(std::max(0.0, values.at<double>(i))) * vectors.at<double>(i, j);
        return out;
    }

    const std::vector<SeenTwice>& places_;
    Light3 darkest_;
    std::vector<double> at_;
    Light3 scale_{2.0, 2.0, 2.0};
    Light3 veil_expected_{};
    Light3 veil_prior_{};
};

}  // namespace

Coat coat_of(const CoatParameters& values) {
    Coat coat;
    std::size_t at = M;
    for (std::size_t i = 0; i < 3; ++i) {
        coat.absorption[i] = values[A + i];
        coat.veil[i] = values[V + i];
        for (std::size_t j = 0; j < 3; ++j)
            if (i != j) coat.crosstalk[i][j] = values[at++];
    }
    return coat;
}

FittedCoat fit_coat(const std::vector<SeenTwice>& places, std::size_t patches, const Light3& darkest) {
    return Fit(places, patches, darkest).run();
}

}  // namespace tedge::imaging
