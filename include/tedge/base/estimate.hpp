// Three-point estimates: what it takes if all goes well, most likely, and if it does not.
#pragma once

#include "tedge/base/error.hpp"

namespace tedge {

// low <= likely <= high. T is a plain number type (minor units of money, months, a factor).
template <class T>
struct Estimate {
    T low{};
    T likely{};
    T high{};

    [[nodiscard]] static constexpr Estimate certain(T value) { return {value, value, value}; }
    [[nodiscard]] constexpr bool is_certain() const { return low == high; }
    [[nodiscard]] constexpr bool in_order() const { return low <= likely && likely <= high; }
    friend constexpr bool operator==(const Estimate&, const Estimate&) = default;
};

// PERT distribution with shape 4 on (a, m, b): a beta distribution with
// alpha = 1 + 4 (m - a)/(b - a), beta = 1 + 4 (b - m)/(b - a).
// mean = (a + 4 m + b) / 6; variance = (mean - a)(b - mean) / 7, exactly: the textbook ((b - a)/6)^2 is only near.
// Source: moments of the beta distribution (Johnson, Kotz & Balakrishnan, Continuous Univariate Distributions 2, ch.
// 25; from memory).
[[nodiscard]] constexpr double pert_mean(const Estimate<double>& e) {
    return (e.low + 4.0 * e.likely + e.high) / 6.0;
}
[[nodiscard]] constexpr double pert_variance(const Estimate<double>& e) {
    const double mean = pert_mean(e);
    return (mean - e.low) * (e.high - mean) / 7.0;
}

// Triangular distribution on the same three points: mean (a + m + b)/3, variance (a² + m² + b² − am − ab − bm)/18. No
// figure of the program is drawn from it; it stands beside the other to show what the choice of shape does to a mean.
[[nodiscard]] constexpr double triangular_mean(const Estimate<double>& e) {
    return (e.low + e.likely + e.high) / 3.0;
}
[[nodiscard]] constexpr double triangular_variance(const Estimate<double>& e) {
    return (e.low * e.low + e.likely * e.likely + e.high * e.high - e.low * e.likely - e.low * e.high -
            e.likely * e.high) /
           18.0;
}

}  // namespace tedge
