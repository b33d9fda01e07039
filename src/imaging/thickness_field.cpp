#include "thickness_field.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <opencv2/core.hpp>

namespace tedge::imaging {
namespace {

constexpr std::array deviations{0.01, 0.03, 0.06, 0.10, 0.16, 0.24, 0.36};
constexpr std::array lengths{0.15, 0.25, 0.40, 0.70, 1.20};
// How likely each is before anything is seen: brushed varnish and dirt are seldom quite even, seldom wildly uneven.
constexpr std::array deviation_weights{1.0, 1.0, 1.2, 1.2, 1.2, 0.8, 0.3};
constexpr std::array length_weights{0.5, 1.0, 1.0, 0.8, 0.5};
constexpr double mean_sd = 0.1;  // the mean is held near 1, for the coat was fitted so
constexpr double negligible = 1e-3;

double alike(PointPx a, PointPx b, double length_px) {
    const double dx = (a.x_px - b.x_px) / length_px;
    const double dy = (a.y_px - b.y_px) / length_px;
    return std::exp(-0.5 * (dx * dx + dy * dy));
}

}  // namespace

ThicknessField::ThicknessField(std::vector<KnownThickness> known, double longest_side_px) : known_(std::move(known)) {
    std::vector<double> logs;
    for (std::size_t d = 0; d < deviations.size(); ++d)
        for (std::size_t l = 0; l < lengths.size(); ++l) {
            Kind kind{deviations[d], lengths[l] * longest_side_px, 0.0, {}, {}};
            logs.push_back(likelihood(kind) + std::log(deviation_weights[d] * length_weights[l]));
            kinds_.push_back(std::move(kind));
        }
    const double best = *std::ranges::max_element(logs);
    double sum = 0.0;
    for (std::size_t i = 0; i < kinds_.size(); ++i) {
        kinds_[i].likely = std::exp(logs[i] - best);
        if (kinds_[i].likely < negligible) kinds_[i].likely = 0.0;
        sum += kinds_[i].likely;
    }
    std::erase_if(kinds_, [](const Kind& kind) { return kind.likely == 0.0; });
    for (Kind& kind : kinds_) kind.likely /= sum;
}

// The logarithm of how likely the known values are under it; fills what predicting needs.
double ThicknessField::likelihood(Kind& kind) const {
    const int n = static_cast<int>(known_.size());
    cv::Mat covariance(n, n, CV_64F);
    cv::Mat off(n, 1, CV_64F);
    for (int i = 0; i < n; ++i) {
        const KnownThickness& a = known_[static_cast<std::size_t>(i)];
        off.at<double>(i) = a.thickness - 1.0;
        for (int j = 0; j < n; ++j) {
            const KnownThickness& b = known_[static_cast<std::size_t>(j)];
            covariance.at<double>(i, j) =
                kind.deviation * kind.deviation * alike(a.at, b.at, kind.length_px) + mean_sd * mean_sd;
        }
        covariance.at<double>(i, i) += a.sd * a.sd;
    }
    const cv::Mat inverse = covariance.inv(cv::DECOMP_CHOLESKY);
    const cv::Mat pull = inverse * off;
    kind.inverse.assign(inverse.begin<double>(), inverse.end<double>());
    kind.pull.assign(pull.begin<double>(), pull.end<double>());
    cv::Mat own;
    cv::eigen(covariance, own);
    double logarithm = 0.0;  // of the determinant
    for (int i = 0; i < n; ++i) logarithm += std::log(std::max(1e-12, own.at<double>(i)));
    return -0.5 * (off.dot(pull) + logarithm);
}

ThicknessThere ThicknessField::at(PointPx place) const {
    const std::size_t n = known_.size();
    std::vector<double> with(n);
    double mean = 0.0;
    double square = 0.0;
    for (const Kind& kind : kinds_) {
        const double variance = kind.deviation * kind.deviation;
        for (std::size_t i = 0; i < n; ++i)
            with[i] = variance * alike(place, known_[i].at, kind.length_px) + mean_sd * mean_sd;
        double here = 1.0;
        double told = 0.0;
        for (std::size_t i = 0; i < n; ++i) {
            here += with[i] * kind.pull[i];
            double row = 0.0;
            for (std::size_t j = 0; j < n; ++j) row += kind.inverse[i * n + j] * with[j];
            told += with[i] * row;
        }
        mean += kind.likely * here;
        square += kind.likely * (here * here + std::max(0.0, variance + mean_sd * mean_sd - told));
    }
    return {std::max(0.0, mean), std::sqrt(std::max(0.0, square - mean * mean))};
}

double ThicknessField::variation() const {
    double square = 0.0;
    for (const Kind& kind : kinds_) square += kind.likely * kind.deviation * kind.deviation;
    return std::sqrt(square);
}

}  // namespace tedge::imaging
