#include "weave_pair.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace tedge::imaging {
namespace {

constexpr double own_check = 0.05;  // of the contrast of the threads
constexpr double exactly_per_cm = 0.3;

}  // namespace

std::optional<WeavePair> ordered(Frequency p, Frequency q, double most_per_cm) {
    const double lp = p.length(), lq = q.length();
    if (std::min(lp, lq) < fewest_threads_per_cm || std::max(lp, lq) > most_per_cm || lp > 3.0 * lq || lq > 3.0 * lp)
        return std::nullopt;
    if (std::abs(cross(p, q)) < 0.87 * lp * lq) return std::nullopt;  // 60 to 120 degrees
    if (std::abs(p.y) / lp > std::abs(q.y) / lq) std::swap(p, q);
    if (p.x < 0) p = -1.0 * p;
    if (q.y < 0) q = -1.0 * q;
    return WeavePair{p, q};
}

double turned_degrees(const WeavePair& pair) {
    return 0.5 * std::abs(pair.a.degrees() + pair.b.degrees() - 90.0);
}

double skew(const WeavePair& pair) {
    return std::min(1.0, std::pow((pair.b.degrees() - pair.a.degrees() - 90.0) / 10.0, 2));
}

double contrast_at(const PowerSpectrum& spectrum, Frequency at, double least_contrast) {
    if (std::max(std::abs(at.x), std::abs(at.y)) > spectrum.limit_per_cm()) return 1.0;
    const auto peak = peak_near(spectrum, at, std::max(1.0, 1.5 * spectrum.bin_per_cm()));
    return peak && peak->contrast >= least_contrast ? peak->contrast : 1.0;
}

bool has_checks(const WeavePair& pair, const PowerSpectrum& spectrum, double least_contrast) {
    const double beside = own_check * std::min(contrast_at(spectrum, pair.a, least_contrast),
                                               contrast_at(spectrum, pair.b, least_contrast));
    return std::ranges::all_of(std::array{0.5 * (pair.a + pair.b), 0.5 * (pair.a - pair.b)}, [&](Frequency at) {
        const auto peak = peak_near(spectrum, at, 1.0);
        return peak && (peak->at - at).length() < exactly_per_cm && peak->contrast >= std::max(least_contrast, beside);
    });
}

}  // namespace tedge::imaging
