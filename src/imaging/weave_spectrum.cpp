#include "weave_spectrum.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "registration_workers.hpp"

namespace tedge::imaging {
namespace {

constexpr double square_cm = 1.0;
constexpr int most_squares = 10'000;
constexpr int most_averaged = 2'000;
constexpr double quietest_share = 1e-4;
constexpr double ring_from_per_cm = 2.5;
constexpr double ring_to_per_cm = 4.5;

int padded_side(int side_px) {
    int side = 32;
    while (side < 256 && side < side_px * 3 / 2) side *= 2;
    return side;
}

double median_of(std::vector<float>& values) {
    if (values.empty()) return 0.0;
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::ranges::nth_element(values, middle);
    return *middle;
}

// Of three neighbours on a line: where the parabola through them has its top, from the middle one.
double top_of_three(double before, double at, double after) {
    const double bend = before - 2.0 * at + after;
    return bend < 0.0 ? std::clamp(0.5 * (before - after) / bend, -0.5, 0.5) : 0.0;
}

}  // namespace

double Frequency::length() const {
    return std::hypot(x, y);
}

double Frequency::degrees() const {
    return std::atan2(y, x) * 180.0 / std::numbers::pi;
}

SquareGrid SquareGrid::over(const WeaveSignal& signal) {
    const SizePx size = signal.values.size();
    SquareGrid grid;
    grid.side_px =
        std::min({static_cast<int>(std::lround(square_cm * signal.px_per_cm)), 256, size.width_px, size.height_px});
    const double area = static_cast<double>(size.width_px) * size.height_px;
    const double step = std::max(grid.side_px / 2.0, std::sqrt(area / most_squares));
    const auto along = [&](int length, int& count, double& step_px) {
        count = 1 + static_cast<int>(std::ceil((length - grid.side_px) / step));
        step_px = count > 1 ? static_cast<double>(length - grid.side_px) / (count - 1) : 0.0;
    };
    along(size.width_px, grid.columns, grid.step_x_px);
    along(size.height_px, grid.rows, grid.step_y_px);
    return grid;
}

SquareTransform::SquareTransform(int side_px, double px_per_cm)
    : side_px_(side_px),
      fourier_(padded_side(side_px)),
      first_(fourier_.side(), px_per_cm / fourier_.side()),
      second_(first_) {
    const auto samples = static_cast<std::size_t>(fourier_.side()) * static_cast<std::size_t>(fourier_.side());
    real_.resize(samples);
    imaginary_.resize(samples);
    for (int i = 0; i < side_px; ++i)  // Hann's
        window_.push_back(static_cast<float>(0.5 - 0.5 * std::cos(2.0 * std::numbers::pi * (i + 0.5) / side_px)));
}

void SquareTransform::transform(const WeaveSignal& signal, PointPx first, PointPx second) {
    const int side = fourier_.side();
    const auto corner = [](PointPx p) { return std::array{static_cast<int>(p.x_px), static_cast<int>(p.y_px)}; };
    const auto [x1, y1] = corner(first);
    const auto [x2, y2] = corner(second);
    std::ranges::fill(real_, 0.0F);
    std::ranges::fill(imaginary_, 0.0F);
    for (int y = 0; y < side_px_; ++y) {
        const std::int8_t* one = signal.values.row(y1 + y) + x1;
        const std::int8_t* other = signal.values.row(y2 + y) + x2;
        const std::size_t at = static_cast<std::size_t>(y) * static_cast<std::size_t>(side);
        const float down = window_[static_cast<std::size_t>(y)];
        for (std::size_t x = 0; x < window_.size(); ++x) {
            real_[at + x] = window_[x] * down * one[x];
            imaginary_[at + x] = window_[x] * down * other[x];
        }
    }
    fourier_.forward(real_.data(), imaginary_.data());
    const auto mask = static_cast<std::size_t>(side - 1);
    const auto n = static_cast<std::size_t>(side);
    for (std::size_t u = 0; u < n; ++u) {
        for (std::size_t v = 0; v < n; ++v) {
            const std::size_t here = u * n + v;
            const std::size_t opposite = ((n - u) & mask) * n + ((n - v) & mask);
            const float even_real = real_[here] + real_[opposite],
                        odd_imaginary = imaginary_[here] - imaginary_[opposite];
            const float even_imaginary = imaginary_[here] + imaginary_[opposite];
            const float odd_real = real_[here] - real_[opposite];
            first_.power()[here] = even_real * even_real + odd_imaginary * odd_imaginary;
            second_.power()[here] = even_imaginary * even_imaginary + odd_real * odd_real;
        }
    }
}

void even_out(PowerSpectrum& spectrum) {
    const int half = spectrum.side() / 2;
    const auto ring_of = [&](int u, int v) {  // a cycle per centimetre wide, at least a bin
        const double width = std::max(1.0, 1.0 / spectrum.bin_per_cm());
        return static_cast<std::size_t>(std::hypot(u, v) / width);
    };
    std::vector<std::vector<float>> rings(ring_of(half, half) + 1);
    float strongest = 0.0F;
    for (int u = 0; u <= half; ++u)  // the other half is the same
        for (int v = -half; v < half; ++v) {
            rings[ring_of(u, v)].push_back(spectrum.at(u, v));
            strongest = std::max(strongest, spectrum.at(u, v));
        }
    if (strongest <= 0.0F) return;
    std::vector<float> usual;
    for (std::vector<float>& ring : rings)
        usual.push_back(static_cast<float>(1.0 / (median_of(ring) + quietest_share * strongest)));
    for (int u = -half; u < half; ++u)
        for (int v = -half; v < half; ++v) spectrum.at(u, v) *= usual[ring_of(u, v)];
}

double ring_median(const PowerSpectrum& spectrum, Frequency around) {
    const double bin = spectrum.bin_per_cm();
    const double cu = around.x / bin, cv = around.y / bin;
    const double from = ring_from_per_cm / bin, to = ring_to_per_cm / bin;
    std::vector<float> ring;
    for (int u = static_cast<int>(std::floor(cu - to)); u <= cu + to; ++u)
        for (int v = static_cast<int>(std::floor(cv - to)); v <= cv + to; ++v) {
            const double away = std::hypot(u - cu, v - cv);
            if (away >= from && away <= to) ring.push_back(spectrum.at(u, v));
        }
    return median_of(ring);
}

std::optional<Peak> peak_near(const PowerSpectrum& spectrum, Frequency around, double radius_per_cm) {
    const double bin = spectrum.bin_per_cm();
    const double cu = around.x / bin, cv = around.y / bin, radius = radius_per_cm / bin;
    int best_u = 0, best_v = 0;
    float best = -1.0F;
    for (int u = static_cast<int>(std::ceil(cu - radius)); u <= cu + radius; ++u)
        for (int v = static_cast<int>(std::ceil(cv - radius)); v <= cv + radius; ++v)
            if (std::hypot(u - cu, v - cv) <= radius && spectrum.at(u, v) > best) {
                best = spectrum.at(u, v);
                best_u = u;
                best_v = v;
            }
    if (best <= 0.0F) return std::nullopt;
    const auto log_power = [&](int du, int dv) { return std::log(spectrum.at(best_u + du, best_v + dv) + 1e-20); };
    for (const auto& [du, dv] : {std::pair{-1, 0}, {1, 0}, {0, -1}, {0, 1}})
        if (spectrum.at(best_u + du, best_v + dv) > best) return std::nullopt;
    const double u = best_u + top_of_three(log_power(-1, 0), log_power(0, 0), log_power(1, 0));
    const double v = best_v + top_of_three(log_power(0, -1), log_power(0, 0), log_power(0, 1));
    Peak peak{.at = {u * bin, v * bin}, .power = best};
    peak.contrast = best / std::max(1e-20, ring_median(spectrum, peak.at));
    return peak;
}

PowerSpectrum mean_spectrum(const WeaveSignal& signal, const SquareGrid& grid, int workers, const Progress& progress) {
    // Sums in a fixed order, whatever the number of threads: each part is summed by one of them.
    constexpr int parts = 8;
    const int pairs = (std::min(grid.count(), most_averaged) + 1) / 2;
    const int squares = std::min(grid.count(), 2 * pairs);
    std::vector<std::vector<double>> sums(parts);
    const auto corner = [&](int index) {
        const int square = static_cast<int>(static_cast<std::int64_t>(index) * grid.count() / squares);
        return grid.corner(square);
    };
    const auto add = [](std::vector<double>& sum, PowerSpectrum spectrum) {
        even_out(spectrum);
        for (std::size_t i = 0; i < sum.size(); ++i) sum[i] += spectrum.power()[i];
    };
    for_each_index(
        parts, workers, [&] { return progress.stopped(); },
        [&](int part, int) {
            SquareTransform transform(grid.side_px, signal.px_per_cm);
            std::vector<double>& sum = sums[static_cast<std::size_t>(part)];
            sum.resize(transform.first().power().size());
            for (int pair = part; pair < pairs && !progress.stopped(); pair += parts) {
                const int second = std::min(2 * pair + 1, squares - 1);
                transform.transform(signal, corner(2 * pair), corner(second));
                add(sum, transform.first());
                if (second > 2 * pair) add(sum, transform.second());
            }
        });
    const int side = padded_side(grid.side_px);
    PowerSpectrum mean(side, signal.px_per_cm / side);
    for (const std::vector<double>& sum : sums)
        for (std::size_t i = 0; i < sum.size(); ++i) mean.power()[i] += static_cast<float>(sum[i] / squares);
    even_out(mean);
    return mean;
}

}  // namespace tedge::imaging
