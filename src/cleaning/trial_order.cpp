#include "tedge/cleaning/trial_order.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "tedge/cleaning/series.hpp"

namespace tedge::cleaning {

namespace {

constexpr double rounding_fd = 0.5;
constexpr double step_percent = 10;
constexpr double same_percent = 0.05;

bool is_same(const Mixture& one, const Mixture& other) {
    if (one.size() != other.size()) return false;
    return std::ranges::all_of(one, [&](const Component& component) {
        return std::ranges::any_of(other, [&](const Component& c) {
            return c.solvent == component.solvent && std::abs(c.percent - component.percent) < same_percent;
        });
    });
}

// None where the mixture stands in no series, or at the end of those it stands in.
std::optional<Mixture> next_in_series(const Mixture& mixture) {
    for (const TestSeries& series : test_series()) {
        for (std::size_t i = 0; i + 1 < series.steps.size(); ++i) {
            const Mixture& next = series.steps[i + 1].mixture;
            if (is_same(series.steps[i].mixture, mixture) && is_stronger(next, mixture)) return next;
        }
    }
    return std::nullopt;
}

}  // namespace

std::vector<std::size_t> mildest_first(const std::vector<Mixture>& mixtures) {
    std::vector<double> fd;
    fd.reserve(mixtures.size());
    for (const Mixture& mixture : mixtures) fd.push_back(average_teas(mixture).fd);
    std::vector<std::size_t> order(mixtures.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::ranges::stable_sort(order, [&](std::size_t one, std::size_t other) { return fd[one] > fd[other]; });
    return order;
}

bool is_stronger(const Mixture& next, const Mixture& before) {
    return average_teas(before).fd - average_teas(next).fd > rounding_fd;
}

std::optional<Mixture> next_stronger(const Mixture& mixture) {
    if (auto next = next_in_series(mixture)) return next;
    if (mixture.size() != 2) return std::nullopt;
    const bool first_is_stronger = mixture[0].solvent->teas.value.fd < mixture[1].solvent->teas.value.fd;
    Component stronger = mixture[first_is_stronger ? 0 : 1];
    Component milder = mixture[first_is_stronger ? 1 : 0];
    stronger.percent = std::min(100.0, stronger.percent + step_percent);
    milder.percent = 100.0 - stronger.percent;
    Mixture next{stronger};
    if (milder.percent > same_percent) next.push_back(milder);
    if (!is_stronger(next, mixture)) return std::nullopt;
    return next;
}

}  // namespace tedge::cleaning
