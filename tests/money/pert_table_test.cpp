// Against the moments of the beta distribution in closed form and against a plain integration written here.
#include "pert_table.hpp"

#include <catch2/catch.hpp>

#include <cmath>

#include "tedge/base/estimate.hpp"

using namespace tedge;
using namespace tedge::money;

namespace {

// ∫ of f over [0, to] against the density of a PERT distribution, by the midpoint rule after x = s³(10 − 15 s + 6 s²),
// which flattens both ends.
template <class Function>
double integrated(double most_likely, double to, Function f) {
    const double a = 1.0 + 4.0 * most_likely;
    const double b = 5.0 - 4.0 * most_likely;
    const double norm = std::exp(std::lgamma(6.0) - std::lgamma(a) - std::lgamma(b));
    constexpr int steps = 40'000;
    double sum = 0.0;
    for (int i = 0; i < steps; ++i) {
        const double s = (i + 0.5) / steps;
        const double x = to * s * s * s * (10.0 - 15.0 * s + 6.0 * s * s);
        const double dx = to * 30.0 * s * s * (1.0 - s) * (1.0 - s) / steps;
        sum += f(x) * norm * std::pow(x, a - 1.0) * std::pow(1.0 - x, b - 1.0) * dx;
    }
    return sum;
}

constexpr double modes[] = {0.0, 0.02, 0.1, 0.25, 0.2941176, 0.5, 0.6666667, 0.9, 0.98, 1.0};

}  // namespace

TEST_CASE("the cumulative distribution agrees with plain integration") {
    for (const double mode : modes) {
        const PertTable table(mode);
        for (const double x : {0.0005, 0.001, 0.0021, 0.01, 0.1, 0.333, 0.5, 0.77, 0.95, 0.999, 0.9995}) {
            INFO("mode " << mode << " x " << x);
            CHECK(table.cumulative(x) == Approx(integrated(mode, x, [](double) { return 1.0; })).margin(2e-8));
        }
        CHECK(table.cumulative(-0.1) == 0.0);
        CHECK(table.cumulative(0.0) == 0.0);
        CHECK(table.cumulative(1.0) == 1.0);
        CHECK(table.cumulative(NAN) == 0.0);
    }
}

TEST_CASE("a PERT with its likely value at the low end has a distribution in closed form") {
    const PertTable table(0.0);
    for (double x = 0.0; x < 1.0; x += 0.0137) {
        CHECK(table.cumulative(x) == Approx(1.0 - std::pow(1.0 - x, 5)).margin(1e-11));
        CHECK(table.excess_mean(x) == Approx(std::pow(1.0 - x, 6) / 6.0).margin(1e-11));
        CHECK(table.quantile(x) == Approx(1.0 - std::pow(1.0 - x, 0.2)).margin(3e-5));
    }
}

TEST_CASE("the mean excess agrees with plain integration") {
    for (const double mode : modes) {
        const PertTable table(mode);
        for (const double from : {0.0004, 0.05, 0.3, 0.6, 0.93}) {
            INFO("mode " << mode << " from " << from);
            const double below = integrated(mode, from, [&](double x) { return x - from; });
            CHECK(table.excess_mean(from) == Approx(table.mean() - from - below).margin(2e-8));
        }
        CHECK(table.excess_mean(-0.5) == Approx(table.mean() + 0.5));
        CHECK(table.excess_mean(1.5) == 0.0);
    }
}

// Source: moments of the beta distribution; the check values 7,666.67 and 9,984,127 for (2,000, 6,000, 20,000) are our
// own.
TEST_CASE("mean and variance are the exact ones, of the masses and of the quantiles") {
    for (const double mode : modes) {
        const PertTable table(mode);
        const Estimate<double> unit{0.0, mode, 1.0};
        CHECK(table.mean() == Approx(pert_mean(unit)).epsilon(1e-14));
        double mass = 0.0, mean = 0.0, square = 0.0;
        for (const auto& point : table.point_masses()) {
            mass += point.mass;
            mean += point.mass * point.at;
            square += point.mass * point.at * point.at;
        }
        CHECK(mass == Approx(1.0).epsilon(1e-12));
        CHECK(mean == Approx(pert_mean(unit)).epsilon(1e-8));
        CHECK(square - mean * mean == Approx(pert_variance(unit)).epsilon(3e-5));
        double drawn = 0.0, drawn_square = 0.0;
        constexpr int draws = 100'000;
        for (int i = 0; i < draws; ++i) {
            const double x = table.quantile((i + 0.5) / draws);
            drawn += x / draws;
            drawn_square += x * x / draws;
        }
        CHECK(drawn == Approx(pert_mean(unit)).margin(1e-5));
        CHECK(drawn_square - drawn * drawn == Approx(pert_variance(unit)).epsilon(1e-3));
    }
    const Estimate<double> skewed{2'000, 6'000, 20'000};
    CHECK(pert_mean(skewed) == Approx(7666.67).margin(0.005));
    CHECK(pert_variance(skewed) == Approx(9'984'127).margin(0.5));
}

TEST_CASE("quantiles invert the distribution and ascend") {
    for (const double mode : modes) {
        const PertTable table(mode);
        double before = -1.0;
        for (double share = 0.0; share <= 1.0; share += 0.00317) {
            const double x = table.quantile(share);
            CHECK(x > before);
            CHECK(table.cumulative(x) == Approx(share).margin(1e-4));
            before = x;
        }
        CHECK(table.quantile(0.0) == 0.0);
        CHECK(table.quantile(1.0) == 1.0);
    }
}

// Own arithmetic: (2,000, 6,000, 20,000), and one that leans the other way.
TEST_CASE("moments of three points are exact, and the shape moves a skewed mean by a fifth") {
    const Estimate<double> guess{2'000.0, 6'000.0, 20'000.0};
    CHECK(pert_mean(guess) == Approx(46'000.0 / 6.0).epsilon(1e-15));
    CHECK(pert_variance(guess) == Approx(9'984'127.0).margin(0.5));  // 17,000/3 x 37,000/3 / 7
    CHECK(triangular_mean(guess) == Approx(28'000.0 / 3.0).epsilon(1e-15));
    CHECK(triangular_variance(guess) == Approx(14'888'889.0).margin(0.5));
    CHECK(triangular_mean(guess) / pert_mean(guess) == Approx(1.217).margin(0.001));
    const Estimate<double> certain{7.0, 7.0, 7.0};
    CHECK(pert_variance(certain) == 0.0);
    CHECK(triangular_variance(certain) == 0.0);
    CHECK(pert_variance({0.0, 1.0, 1.0}) == Approx(5.0 / 252.0));       // beta(5, 1): 5/(36 x 7)
    CHECK(triangular_variance({0.0, 1.0, 1.0}) == Approx(1.0 / 18.0));  // density 2x
}
