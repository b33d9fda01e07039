#include "weave_lattice.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "weave_pair.hpp"

namespace tedge::imaging {
namespace {

constexpr double most_peak_per_cm = 64.0;  // second harmonics of fine canvas
constexpr std::size_t most_peaks = 24;
constexpr std::size_t most_pairs_from = 8;  // the strongest, and as many beside their axis
// Of the strongest peak: fainter ones tell nothing beside it.
constexpr double faint = 0.003;
// The window's own side lobes.
constexpr double lobe_per_cm = 4.0;
constexpr double lobe = 0.02;
// Weights of a reading, in logarithms of contrast.
constexpr double axis_counts = 3.0;
constexpr double check_counts = 3.0;  // divided by the half steps that lead to it
constexpr double unexplained_costs = 1.5;
constexpr double missing_costs = 2.0;

double strength(double contrast, double strongest) {
    return std::log(std::max(1.0, contrast / std::max(1.0, faint * strongest)));
}

bool is_top(const PowerSpectrum& spectrum, int u, int v) {
    const float here = spectrum.at(u, v);
    for (int dv = -1; dv <= 1; ++dv)
        for (int du = -1; du <= 1; ++du) {
            if (du == 0 && dv == 0) continue;
            const float there = spectrum.at(u + du, v + dv);
            if (there > here || (there == here && (dv < 0 || (dv == 0 && du < 0)))) return false;
        }
    return true;
}

std::vector<Peak> peaks_of(const PowerSpectrum& spectrum, double least_contrast) {
    std::vector<Peak> peaks;
    const int half = spectrum.side() / 2;
    const double bin = spectrum.bin_per_cm();
    for (int u = 0; u < half; ++u)
        for (int v = -half + 1; v < half; ++v) {
            const double away = std::hypot(u, v) * bin;
            if ((u == 0 && v <= 0) || away < least_peak_per_cm || away > most_peak_per_cm) continue;
            if (!is_top(spectrum, u, v)) continue;
            const auto peak = peak_near(spectrum, {u * bin, v * bin}, 0.6 * bin);
            if (peak && peak->contrast >= least_contrast) peaks.push_back(*peak);
        }
    std::ranges::sort(peaks, [](const Peak& p, const Peak& q) { return p.contrast > q.contrast; });
    std::erase_if(peaks, [all = peaks](const Peak& p) {
        return std::ranges::any_of(
            all, [&](const Peak& q) { return p.power < lobe * q.power && (p.at - q.at).length() < lobe_per_cm; });
    });
    if (peaks.size() > most_peaks) peaks.resize(most_peaks);
    return peaks;
}

// How many steps of half a and half b, an even number, lead to a point near `at`; 0 where none do.
double explained_as(const WeavePair& pair, Frequency at) {
    const double area = cross(pair.a, pair.b);
    const double k = 2.0 * cross(at, pair.b) / area;
    const double l = 2.0 * cross(pair.a, at) / area;
    for (const double kk : {std::floor(k), std::ceil(k)})
        for (const double ll : {std::floor(l), std::ceil(l)}) {
            const double orders = std::abs(kk) + std::abs(ll);
            if (orders == 0.0 || orders > 10.0 || std::fmod(orders, 2.0) != 0.0) continue;
            const Frequency rest = at - 0.5 * (kk * pair.a + ll * pair.b);
            if (rest.length() <= 0.5 + 0.1 * orders) return orders;
        }
    return 0.0;
}

// Threads of uneven thickness leave a streak along the direction they are counted in.
bool on_an_axis(const WeavePair& pair, Frequency at) {
    return std::min(std::abs(cross(pair.a, at)) / pair.a.length(), std::abs(cross(pair.b, at)) / pair.b.length()) < 0.7;
}

struct Reading {
    WeavePair pair;
    double score = 0.0;
};

// What speaks against a reading on one of its axes: a strong peak at half the frequency, of which it would be the
// harmonic, or a harmonic stronger than itself where no checks say that it is one.
double against_axis(Frequency axis, double seen, bool checked, const PowerSpectrum& spectrum, double least_contrast) {
    const double half = contrast_at(spectrum, 0.5 * axis, least_contrast);
    const double twice = contrast_at(spectrum, 2.0 * axis, least_contrast);
    double against = 0.0;
    if (half > 0.5 * seen && axis.length() > 2.0 * fewest_threads_per_cm)
        against += axis_counts * std::log(2.0 * half / seen);
    if (twice > 2.0 * seen && !checked) against += axis_counts * std::log(twice / seen);
    return against;
}

double score_of(const WeavePair& pair, const LatticeSearch& search, const PowerSpectrum& spectrum) {
    double score = -turn_costs * turned_degrees(pair) / 45.0 - skew_costs * skew(pair);
    // A fine lattice meets any peak by chance: what it explains counts for less.
    const double by_chance = std::min(0.9, std::numbers::pi / (0.5 * std::abs(cross(pair.a, pair.b))));
    const double strongest = search.peaks.front().contrast;
    const double seen_a = contrast_at(spectrum, pair.a, search.least_contrast);
    const double seen_b = contrast_at(spectrum, pair.b, search.least_contrast);
    const bool checked = has_checks(pair, spectrum, search.least_contrast);
    for (const auto& [axis, seen] : {std::pair{pair.a, seen_a}, std::pair{pair.b, seen_b}}) {
        score += seen > 1.0 ? axis_counts * strength(seen, strongest) : -missing_costs;
        score -= against_axis(axis, seen, checked, spectrum, search.least_contrast);
    }
    const double reach = 1.2 * std::max(pair.a.length(), pair.b.length());
    for (const Peak& peak : search.peaks) {
        const double counts = strength(peak.contrast, strongest);
        if (on_an_axis(pair, peak.at)) continue;  // threads, their harmonics and streaks
        if (const double orders = explained_as(pair, peak.at); orders > 0.0) {
            score += check_counts / orders * counts * (1.0 - by_chance);
        } else if (peak.at.length() < reach) {  // far out a small error of the pair is a large one
            score -= counts * unexplained_costs;
        }
    }
    return score;
}

// The strongest peaks, and the strongest of those that do not lie along the first: where light along the surface shows
// one set alone, its harmonics and streaks come before anything that tells of the other.
std::vector<Frequency> paired(const std::vector<Peak>& peaks) {
    std::vector<Frequency> out;
    std::size_t beside = 0;
    for (std::size_t i = 0; i < peaks.size(); ++i) {
        const Frequency first = peaks.front().at, at = peaks[i].at;
        const bool off_axis = std::abs(cross(first, at)) / first.length() > 2.0;
        if (i < most_pairs_from || (off_axis && beside < most_pairs_from)) {
            out.push_back(at);
            if (off_axis) ++beside;
        }
    }
    return out;
}

std::vector<WeavePair> pairs_of(const std::vector<Frequency>& peaks, double most_per_cm) {
    std::vector<WeavePair> pairs;
    const std::size_t count = peaks.size();
    const auto add = [&](Frequency p, Frequency q) {
        if (const auto pair = ordered(p, q, most_per_cm)) pairs.push_back(*pair);
    };
    for (std::size_t i = 0; i < count; ++i)
        for (std::size_t j = 0; j < count; ++j) {
            if (i == j) continue;
            const Frequency p = peaks[i], q = peaks[j];
            if (i < j) add(p, q);          // both on the axes
            if (i < j) add(p + q, p - q);  // both are checks
            add(p, 2.0 * q - p);           // one set and a check
            add(p, 2.0 * q + p);
        }
    return pairs;
}

bool same(const WeavePair& p, const WeavePair& q) {
    return (p.a - q.a).length() < 1.0 && (p.b - q.b).length() < 1.0;
}

}  // namespace

LatticeSearch find_lattice(const PowerSpectrum& mean, double squares, double most_per_cm) {
    LatticeSearch search;
    search.least_contrast = 1.5 + 9.0 / std::sqrt(std::max(1.0, squares));
    search.peaks = peaks_of(mean, search.least_contrast);
    std::optional<Reading> best;
    std::vector<Reading> readings;
    for (const WeavePair& pair : pairs_of(paired(search.peaks), most_per_cm)) {
        if (std::ranges::any_of(readings, [&](const Reading& had) { return same(had.pair, pair); })) continue;
        readings.push_back({pair, score_of(pair, search, mean)});
        if (!best || readings.back().score > best->score) best = readings.back();
    }
    if (!best) return search;
    WeaveLattice lattice{.a = best->pair.a, .b = best->pair.b, .lead = 100.0};
    for (const Reading& other : readings)
        if (!same(other.pair, best->pair) && best->score - other.score < lattice.lead) {
            lattice.lead = best->score - other.score;
            lattice.other_a_per_cm = other.pair.a.length();
        }
    settle(lattice, mean, search.least_contrast, most_per_cm);
    lattice.contrast_a = contrast_at(mean, lattice.a, search.least_contrast);
    lattice.contrast_b = contrast_at(mean, lattice.b, search.least_contrast);
    lattice.contrast_checks = std::max(contrast_at(mean, 0.5 * (lattice.a + lattice.b), search.least_contrast),
                                       contrast_at(mean, 0.5 * (lattice.a - lattice.b), search.least_contrast));
    search.found = lattice;
    return search;
}

}  // namespace tedge::imaging
