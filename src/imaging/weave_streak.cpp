#include "weave_streak.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace tedge::imaging {
namespace {

constexpr double from_per_cm = 3.0;
constexpr double between_peaks = 0.5;  // of the power along a direction: the fainter part
constexpr int beside_from_deg = 15;
constexpr int beside_to_deg = 35;
constexpr double most = 2.0;   // beyond that a direction is no surer
constexpr int astray_deg = 2;  // of a direction told by two peaks

double log_power(const PowerSpectrum& spectrum, double u, double v) {
    const auto at = [&](double x, double y) {
        return static_cast<double>(spectrum.at(static_cast<int>(std::floor(x)), static_cast<int>(std::floor(y))));
    };
    const double f = u - std::floor(u), g = v - std::floor(v);
    return std::log((1 - f) * ((1 - g) * at(u, v) + g * at(u, v + 1)) +
                    f * ((1 - g) * at(u + 1, v) + g * at(u + 1, v + 1)) + 1e-6);
}

double fainter_part(const PowerSpectrum& spectrum, double degrees) {
    const double bin = spectrum.bin_per_cm();
    const double x = std::cos(degrees * std::numbers::pi / 180.0), y = std::sin(degrees * std::numbers::pi / 180.0);
    std::vector<double> powers;
    for (double away = from_per_cm; away < 0.95 * spectrum.limit_per_cm(); away += bin)
        powers.push_back(log_power(spectrum, away * x / bin, away * y / bin));
    std::ranges::sort(powers);
    powers.resize(
        std::max<std::size_t>(1, static_cast<std::size_t>(between_peaks * static_cast<double>(powers.size()))), 0.0);
    double sum = 0.0;
    for (const double each : powers) sum += each;
    return sum / static_cast<double>(powers.size());
}

}  // namespace

Streaks::Streaks(const PowerSpectrum& spectrum) {
    std::vector<double> all;
    for (int i = 0; i < directions; ++i) all.push_back(fainter_part(spectrum, i));
    for (int i = 0; i < directions; ++i) {
        std::vector<double> beside;  // light along the surface makes one half of the directions stronger than the other
        for (int away = beside_from_deg; away <= beside_to_deg; ++away)
            for (const int turn : {-away, away})
                beside.push_back(all[static_cast<std::size_t>((i + turn + directions) % directions)]);
        const auto middle = beside.begin() + static_cast<std::ptrdiff_t>(beside.size() / 2);
        std::ranges::nth_element(beside, middle);
        above_.push_back(std::clamp(all[static_cast<std::size_t>(i)] - *middle, 0.0, most));
    }
}

double Streaks::along(Frequency direction) const {
    const auto nearest = static_cast<int>(std::lround(direction.degrees())) + 2 * directions;
    double strongest = 0.0;
    for (int away = -astray_deg; away <= astray_deg; ++away)
        strongest = std::max(strongest, above_[static_cast<std::size_t>((nearest + away) % directions)]);
    return strongest;
}

}  // namespace tedge::imaging
