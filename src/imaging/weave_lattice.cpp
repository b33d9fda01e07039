#include "weave_lattice.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "weave_pair.hpp"
#include "weave_streak.hpp"

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
constexpr double sum_costs = 2.0;
constexpr double astray_per_cm = 0.7;  // off an axis, of a peak on it
constexpr double least_reach_per_cm = 14.0;

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

struct Steps {
    double orders = 0.0;     // in halves of the counts; 0: none lead there
    double tolerance = 0.0;  // cycles per centimetre
};

// The steps, of an nth of a and of b each, that lead to a point near `at` where the kind has light.
Steps explained_as(const WeavePair& pair, WeaveKind kind, Frequency at) {
    const double area = cross(pair.a, pair.b);
    const int n = repeat_of(kind);
    const double k = n * cross(at, pair.b) / area;
    const double l = n * cross(pair.a, at) / area;
    for (const double kk : {std::floor(k), std::ceil(k)})
        for (const double ll : {std::floor(l), std::ceil(l)}) {
            const double orders = std::abs(kk) + std::abs(ll);
            if (orders == 0.0 || orders > 5.0 * n || !belongs(kind, static_cast<int>(kk), static_cast<int>(ll)))
                continue;
            const Frequency rest = at - (1.0 / n) * (kk * pair.a + ll * pair.b);
            const double tolerance = 0.5 + 0.2 * orders / n;
            if (rest.length() <= tolerance) return {std::max(2.0, 2.0 * orders / n), tolerance};
        }
    return {};
}

// Threads of uneven thickness leave a streak along the direction they are counted in.
bool on_an_axis(const WeavePair& pair, Frequency at) {
    return std::min(std::abs(cross(pair.a, at)) / pair.a.length(), std::abs(cross(pair.b, at)) / pair.b.length()) <
           astray_per_cm;
}

// Checks and twill lines of uneven threads spread likewise, past their own place.
bool beside_own_place(const WeavePair& pair, WeaveKind kind, Frequency at) {
    const double area = cross(pair.a, pair.b), n = repeat_of(kind);
    const auto off = [&](double steps, Frequency axis) { return std::abs(std::abs(steps) - 1.0 / n) * axis.length(); };
    return std::min(off(cross(at, pair.b) / area, pair.a), off(cross(pair.a, at) / area, pair.b)) < astray_per_cm;
}

struct Reading {
    WeavePair pair;
    WeaveKind kind = WeaveKind::plain;
    double score = 0.0;
};

// What speaks against a reading on one of its axes: a strong peak at half the frequency, of which it would be the
// harmonic, or a harmonic stronger than itself where no checks say that it is one.
double against_axis(Frequency axis, double seen, bool checked, const PowerSpectrum& spectrum,
                    const LatticeSearch& search) {
    const double half = contrast_at(spectrum, 0.5 * axis, search.least_contrast);
    const double twice = contrast_at(spectrum, 2.0 * axis, search.least_contrast);
    double against = 0.0;
    if (half > 0.5 * seen && axis.length() > 2.0 * fewest_threads_per_cm)
        against += axis_counts * std::log(2.0 * half / seen);
    if (twice > 2.0 * seen && !checked) against += axis_counts * std::log(twice / seen);
    // Uneven threads leave chance peaks along the axis, but none as strong as the threads themselves.
    double other = seen;
    for (const Peak& peak : search.peaks) {
        const double times = (peak.at.x * axis.x + peak.at.y * axis.y) / (axis.length() * axis.length());
        const bool along = std::abs(cross(axis, peak.at)) / axis.length() < astray_per_cm;
        const bool own =
            std::min(std::abs(std::abs(times) - 1.0), std::abs(std::abs(times) - 2.0)) * axis.length() < 1.0;
        if (along && !own) other = std::max(other, peak.contrast);
    }
    return against + axis_counts * std::log(other / seen);
}

// What both axes of a pair say, whatever the kind of weave.
double score_of_axes(const WeavePair& pair, const LatticeSearch& search, const PowerSpectrum& spectrum,
                     const Streaks& streaks) {
    double score = -turn_costs * turned_degrees(pair) / 45.0 - skew_costs * skew(pair);
    const double strongest = search.peaks.front().contrast;
    const double seen_a = contrast_at(spectrum, pair.a, search.least_contrast);
    const double seen_b = contrast_at(spectrum, pair.b, search.least_contrast);
    const bool checked = has_checks(pair, spectrum, search.least_contrast);
    for (const auto& [axis, seen] : {std::pair{pair.a, seen_a}, std::pair{pair.b, seen_b}}) {
        score += seen > 1.0 ? axis_counts * strength(seen, strongest) : -missing_costs;
        score -= against_axis(axis, seen, checked, spectrum, search);
        score += streak_counts * streaks.along(axis);
    }
    return score;
}

// Peaks that no kind explains, one for each direction: what lies on a line through the middle is one thing, an edge or
// the grain of a strainer.
class Strange {
public:
    void add(const Peak& peak, double counts) {
        const bool had = std::ranges::any_of(seen_, [&](Frequency at) {
            return std::abs(cross(at, peak.at)) < one_line * at.length() * peak.at.length();
        });
        if (had) return;
        seen_.push_back(peak.at);
        costs_ += counts * unexplained_costs;
    }
    [[nodiscard]] double costs() const { return costs_; }

private:
    static constexpr double one_line = 0.04;  // a sine
    std::vector<Frequency> seen_;
    double costs_ = 0.0;
};

// What the peaks beside the axes say for a kind of weave.
double score_beside(const WeavePair& pair, WeaveKind kind, const LatticeSearch& search) {
    double score = -kind_costs(kind);
    // A dense lattice meets any peak by chance: what it explains counts for less.
    const double cell = std::abs(cross(pair.a, pair.b)) / places_in_a_cell(kind);
    const double strongest = search.peaks.front().contrast;
    const double reach = std::max(1.2 * std::max(pair.a.length(), pair.b.length()), least_reach_per_cm);
    Strange strange;
    double first = 0.0;                      // contrast of the strongest explained
    for (const Peak& peak : search.peaks) {  // the strongest first
        const double counts = strength(peak.contrast, strongest);
        if (on_an_axis(pair, peak.at)) continue;  // threads, their harmonics and streaks
        if (const Steps steps = explained_as(pair, kind, peak.at); steps.orders > 0.0) {
            const double by_chance = std::numbers::pi * steps.tolerance * steps.tolerance / cell;
            score += check_counts / steps.orders * counts * std::max(0.0, 1.0 - by_chance);
            first = std::max(first, peak.contrast);
        } else if (peak.at.length() < reach && (peak.contrast > first || !beside_own_place(pair, kind, peak.at))) {
            strange.add(peak, counts);  // far out a small error of the pair is a large one
        }
    }
    return score - strange.costs();
}

// Threads are rather seen themselves than what they make together: their checks may be plainer, but not by much, and
// their sum and difference are not. Else the two are the checks of other threads, or those threads are two gratings.
double score_of_order(const WeavePair& pair, const LatticeSearch& search, const PowerSpectrum& spectrum) {
    const double seen = std::max(contrast_at(spectrum, pair.a, search.least_contrast),
                                 contrast_at(spectrum, pair.b, search.least_contrast));
    double score = 0.0;
    for (const double sign : {-1.0, 1.0}) {
        const Frequency sum = pair.a + sign * pair.b;
        const double checks = contrast_at(spectrum, 0.5 * sum, search.least_contrast);
        score -= std::clamp(0.5 * std::log(checks / seen), 0.0, 2.0);
        if (contrast_at(spectrum, sum, search.least_contrast) > seen) score -= sum_costs;
    }
    return score;
}

Reading reading_of(const WeavePair& pair, const LatticeSearch& search, const PowerSpectrum& spectrum,
                   const Streaks& streaks) {
    Reading best{pair, WeaveKind::plain, -1e9};
    for (const WeaveKind kind : all_weave_kinds)
        if (const double score = score_beside(pair, kind, search); score > best.score) best = {pair, kind, score};
    best.score += score_of_axes(pair, search, spectrum, streaks) + score_of_order(pair, search, spectrum);
    return best;
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
            if (i < j) add(p, q);                     // both on the axes
            if (i < j) add(p + q, p - q);             // both are checks
            for (const double n : {2.0, 3.0, 4.0}) {  // one set, and a check or the line of a twill
                add(p, n * q - p);
                add(p, n * q + p);
            }
        }
    return pairs;
}

// Of the second harmonic to the first; 0 where threads are told by their checks alone.
double twice_share(const PowerSpectrum& spectrum, Frequency axis, double least_contrast) {
    const double once = contrast_at(spectrum, axis, least_contrast);
    return once > 1.0 ? contrast_at(spectrum, 2.0 * axis, least_contrast) / once : 0.0;
}

bool same(const WeavePair& p, const WeavePair& q) {
    return (p.a - q.a).length() < 1.0 && (p.b - q.b).length() < 1.0;
}

}  // namespace

LatticeSearch find_lattice(const PowerSpectrum& mean, double squares, double most_per_cm) {
    LatticeSearch search;
    search.least_contrast = 1.5 + 9.0 / std::sqrt(std::max(1.0, squares));
    search.peaks = peaks_of(mean, search.least_contrast);
    const Streaks streaks(mean);
    std::optional<Reading> best;
    std::vector<Reading> readings;
    for (const WeavePair& pair : pairs_of(paired(search.peaks), most_per_cm)) {
        if (std::ranges::any_of(readings, [&](const Reading& had) { return same(had.pair, pair); })) continue;
        readings.push_back(reading_of(pair, search, mean, streaks));
        if (!best || readings.back().score > best->score) best = readings.back();
    }
    if (!best) return search;
    WeaveLattice lattice{.a = best->pair.a, .b = best->pair.b, .kind = best->kind, .lead = 100.0};
    for (const Reading& other : readings)
        if (!same(other.pair, best->pair) && best->score - other.score < lattice.lead) {
            lattice.lead = best->score - other.score;
            lattice.other_a_per_cm = other.pair.a.length();
            lattice.other_b_per_cm = other.pair.b.length();
        }
    lattice.contrast_a = contrast_at(mean, lattice.a, search.least_contrast);
    lattice.contrast_b = contrast_at(mean, lattice.b, search.least_contrast);
    lattice.contrast_checks = 1.0;
    if (lattice.kind == WeaveKind::plain)
        for (const Frequency check : {0.5 * (lattice.a + lattice.b), 0.5 * (lattice.a - lattice.b)})
            lattice.contrast_checks =
                std::max(lattice.contrast_checks, contrast_at(mean, check, search.least_contrast));
    lattice.twice = std::max(twice_share(mean, lattice.a, search.least_contrast),
                             twice_share(mean, lattice.b, search.least_contrast));
    search.found = lattice;
    return search;
}

}  // namespace tedge::imaging
