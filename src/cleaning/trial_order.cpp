#include "tedge/cleaning/trial_order.hpp"

#include <algorithm>
#include <numeric>

namespace tedge::cleaning {

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
    constexpr double rounding_fd = 0.5;
    return average_teas(before).fd - average_teas(next).fd > rounding_fd;
}

}  // namespace tedge::cleaning
