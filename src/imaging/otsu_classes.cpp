#include "otsu_classes.hpp"

#include <algorithm>
#include <cmath>
#include <span>

namespace tedge::imaging {
namespace {

constexpr double least_separation = 4.0;
constexpr double deviation_from_mad = 1.4826;  // of a normal distribution

// `sorted` must not be empty.
Spread spread_of_sorted(std::span<const float> sorted) {
    const double median = static_cast<double>(sorted[sorted.size() / 2]);
    std::vector<double> away;
    away.reserve(sorted.size());
    for (const float value : sorted) away.push_back(std::abs(static_cast<double>(value) - median));
    const auto middle = away.begin() + static_cast<std::ptrdiff_t>(away.size() / 2);
    std::ranges::nth_element(away, middle);
    return {median, deviation_from_mad * *middle};
}

// How many of the sorted values lie below the threshold that parts them best: the largest variance between classes.
std::size_t otsu_split(std::span<const float> sorted) {
    double total = 0.0;
    for (const float value : sorted) total += static_cast<double>(value);
    const auto n = static_cast<double>(sorted.size());
    double below = 0.0, most = -1.0;
    std::size_t split = 0;
    for (std::size_t i = 1; i < sorted.size(); ++i) {
        below += static_cast<double>(sorted[i - 1]);
        const auto k = static_cast<double>(i);
        const double apart = below / k - (total - below) / (n - k);
        if (const double between = k * (n - k) * apart * apart; between > most) most = between, split = i;
    }
    return split;
}

}  // namespace

Spread spread_of(std::vector<float> values) {
    std::ranges::sort(values);
    return spread_of_sorted(values);
}

UpperClass upper_class_of(std::vector<float> values) {
    std::ranges::sort(values);
    const std::span<const float> sorted(values);
    const Spread all = spread_of_sorted(sorted);
    const std::size_t split = otsu_split(sorted);
    if (split == 0 || split == sorted.size()) return {all.median, all.deviation, false, all.median, all.median};
    const Spread lower = spread_of_sorted(sorted.first(split)), upper = spread_of_sorted(sorted.subspan(split));
    const double apart = upper.median - lower.median;
    const bool separate = apart >= least_separation * lower.deviation && apart > 0.0;
    const Spread& low = separate ? lower : all;
    return {low.median, low.deviation, separate, static_cast<double>(sorted[split]), upper.median};
}

}  // namespace tedge::imaging
