#include <algorithm>
#include <cmath>

#include "weave_pair.hpp"

namespace tedge::imaging {
namespace {

// In logarithms of contrast.
constexpr double harmonic_counts = 2.0;
constexpr double streak_counts = 5.0;
constexpr double unseen_threads_cost = 2.0;
constexpr double settled_by = 3.0;            // which of the two is told less surely than the rest
constexpr double lattice_reach_per_cm = 2.2;  // of a peak of one square

// Threads of uneven thickness and tone leave power all along the directions they are counted in: the mean logarithm of
// it, away from the lattice that both readings share.
double streak(const PowerSpectrum& spectrum, const WeavePair& axes, const WeavePair& shared) {
    double sum = 0.0;
    int counted = 0;
    const double bin = spectrum.bin_per_cm();
    for (const Frequency& axis : {axes.a, axes.b})
        for (double away = least_peak_per_cm; away < 0.9 * spectrum.limit_per_cm(); away += bin) {
            const Frequency at = (away / axis.length()) * axis;
            const double area = cross(shared.a, shared.b);
            const double k = cross(at, shared.b) / area, l = cross(shared.a, at) / area;
            const Frequency rest = at - (std::round(k) * shared.a + std::round(l) * shared.b);
            if (rest.length() < lattice_reach_per_cm) continue;
            const auto u = static_cast<int>(std::lround(at.x / bin)), v = static_cast<int>(std::lround(at.y / bin));
            sum += std::log(spectrum.at(u, v) + 1e-6);
            ++counted;
        }
    return counted > 0 ? sum / counted : 0.0;
}

// How much rather the pair is the checks of the threads. Streaks tell; threads cross squarely (for checks
// that means equal lengths), run nearly along the picture, and are rather seen themselves than their second harmonic.
double rather_checks_by(const WeavePair& pair, const WeavePair& threads, const PowerSpectrum& spectrum,
                        double least_contrast) {
    double by = turn_costs * (turned_degrees(pair) - turned_degrees(threads)) / 45.0 +
                skew_costs * (skew(pair) - skew(threads)) +
                streak_counts * (streak(spectrum, threads, pair) - streak(spectrum, pair, pair));
    const double seen_a = contrast_at(spectrum, threads.a, least_contrast);
    const double seen_b = contrast_at(spectrum, threads.b, least_contrast);
    for (const double seen : {seen_a, seen_b})
        if (seen <= 1.0) by -= unseen_threads_cost;
    for (const Frequency& axis : {pair.a, pair.b}) {
        const double seen = contrast_at(spectrum, axis, least_contrast);
        by -= std::clamp(0.5 * std::log(seen / std::max(seen_a, seen_b)), 0.0, 2.0);
        if (contrast_at(spectrum, 2.0 * axis, least_contrast) > std::max(seen_a, seen_b)) by -= harmonic_counts;
    }
    return by;
}

}  // namespace

void settle(WeaveLattice& lattice, const PowerSpectrum& mean, double least_contrast, double most_per_cm) {
    WeavePair pair{lattice.a, lattice.b};
    std::optional<WeavePair> threads;
    if (has_checks(pair, mean, least_contrast)) {
        const auto checks = ordered(0.5 * (pair.a + pair.b), 0.5 * (pair.a - pair.b), most_per_cm);
        if (!checks) return;
        threads = pair;
        pair = *checks;
    } else {
        threads = ordered(pair.a + pair.b, pair.a - pair.b, most_per_cm);
    }
    if (!threads) return;
    const double by = rather_checks_by(pair, *threads, mean, least_contrast);
    const WeavePair& chosen = by > 0.0 ? *threads : pair;
    lattice.other_a_per_cm = by > 0.0 ? pair.a.length() : threads->a.length();
    lattice.lead = std::min(lattice.lead, std::abs(by) / settled_by);
    lattice.a = chosen.a;
    lattice.b = chosen.b;
}

}  // namespace tedge::imaging
