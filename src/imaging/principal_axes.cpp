#include "principal_axes.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace tedge::imaging {
namespace {

constexpr int most_sweeps = 60;

// Turns the plane of axes p and q so that their covariance vanishes.
void rotate(std::vector<double>& a, std::vector<double>& v, std::size_t n, std::size_t p, std::size_t q) {
    const double apq = a[p * n + q];
    if (apq == 0.0) return;
    const double theta = (a[q * n + q] - a[p * n + p]) / (2.0 * apq);
    const double t = (theta >= 0 ? 1.0 : -1.0) / (std::abs(theta) + std::sqrt(theta * theta + 1.0));
    const double c = 1.0 / std::sqrt(t * t + 1.0);
    const double s = t * c;
    const auto turn = [c, s](double& x, double& y) {
        const double before = x;
        x = c * before - s * y;
        y = s * before + c * y;
    };
    for (std::size_t k = 0; k < n; ++k) turn(a[k * n + p], a[k * n + q]);
    for (std::size_t k = 0; k < n; ++k) turn(a[p * n + k], a[q * n + k]);
    for (std::size_t k = 0; k < n; ++k) turn(v[k * n + p], v[k * n + q]);
}

double off_diagonal(const std::vector<double>& a, std::size_t n) {
    double sum = 0.0;
    for (std::size_t i = 0; i < n; ++i)
        for (std::size_t j = 0; j < n; ++j)
            if (i != j) sum += a[i * n + j] * a[i * n + j];
    return sum;
}

void fix_sign(std::vector<double>& axis) {
    std::size_t largest = 0;
    for (std::size_t i = 1; i < axis.size(); ++i)
        if (std::abs(axis[i]) > std::abs(axis[largest]) + 1e-12) largest = i;
    if (axis[largest] < 0.0)
        for (double& value : axis) value = -value;
}

bool counts(const Raster8* counted, std::size_t i) {
    return counted == nullptr || counted->samples()[i] != 0;
}

std::vector<double> means_of(std::span<const RasterF> planes, const Raster8* counted) {
    std::vector<double> out;
    for (const RasterF& plane : planes) {
        double sum = 0.0;
        std::size_t pixels = 0;
        for (std::size_t i = 0; i < plane.samples().size(); ++i)
            if (counts(counted, i)) {
                sum += static_cast<double>(plane.samples()[i]);
                ++pixels;
            }
        out.push_back(pixels == 0 ? 0.0 : sum / static_cast<double>(pixels));
    }
    return out;
}

double covariance(const RasterF& a, double mean_a, const RasterF& b, double mean_b, const Raster8* counted) {
    double sum = 0.0;
    std::size_t pixels = 0;
    for (std::size_t i = 0; i < a.samples().size(); ++i)
        if (counts(counted, i)) {
            sum += (static_cast<double>(a.samples()[i]) - mean_a) * (static_cast<double>(b.samples()[i]) - mean_b);
            ++pixels;
        }
    return pixels < 2 ? 0.0 : sum / static_cast<double>(pixels - 1);
}

}  // namespace

PrincipalComponents axes_of(std::vector<double> matrix, std::size_t n) {
    std::vector<double> vectors(n * n, 0.0);
    for (std::size_t i = 0; i < n; ++i) vectors[i * n + i] = 1.0;
    const double nothing = 1e-24 * off_diagonal(matrix, n);
    for (int sweep = 0; sweep < most_sweeps && off_diagonal(matrix, n) > nothing; ++sweep)
        for (std::size_t p = 0; p < n; ++p)
            for (std::size_t q = p + 1; q < n; ++q) rotate(matrix, vectors, n, p, q);
    std::vector<std::size_t> order(n);
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::ranges::stable_sort(order, std::greater<>{}, [&](std::size_t i) { return matrix[i * n + i]; });
    PrincipalComponents out;
    for (const std::size_t i : order) {
        out.eigenvalues.push_back(std::max(0.0, matrix[i * n + i]));
        std::vector<double> axis;
        for (std::size_t k = 0; k < n; ++k) axis.push_back(vectors[k * n + i]);
        fix_sign(axis);
        out.loadings.push_back(std::move(axis));
    }
    return out;
}

PrincipalComponents principal_components(std::span<const RasterF> planes, const Raster8* counted) {
    const std::size_t n = planes.size();
    const auto means = means_of(planes, counted);
    std::vector<double> matrix(n * n, 0.0);
    for (std::size_t i = 0; i < n; ++i)
        for (std::size_t j = i; j < n; ++j)
            matrix[i * n + j] = matrix[j * n + i] = covariance(planes[i], means[i], planes[j], means[j], counted);
    return axes_of(std::move(matrix), n);
}

}  // namespace tedge::imaging
