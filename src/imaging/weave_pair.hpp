// Two frequencies read as the two sets of threads of a weave.
#pragma once

#include <optional>

#include "weave_lattice.hpp"

namespace tedge::imaging {

inline constexpr double fewest_threads_per_cm = 4.5;
inline constexpr double least_peak_per_cm = 2.5;  // checks of coarse canvas
// Weights of a reading, in logarithms of contrast.
inline constexpr double turn_costs = 2.0;   // of 45 degrees: most photographs are taken nearly square
inline constexpr double skew_costs = 16.0;  // of 10 degrees and more between the sets, from 90

inline constexpr double streak_counts = 4.0;

struct WeavePair {
    Frequency a;
    Frequency b;
};

[[nodiscard]] inline double cross(Frequency a, Frequency b) {
    return a.x * b.y - a.y * b.x;
}

// a within 45 degrees of the x axis and pointing along it, b down; nothing for two that no weave can have.
[[nodiscard]] std::optional<WeavePair> ordered(Frequency p, Frequency q, double most_per_cm);

[[nodiscard]] double turned_degrees(const WeavePair& pair);  // of both, against the picture
[[nodiscard]] double skew(const WeavePair& pair);            // 0 square, 1 from 10 degrees off

// Of the peak at a frequency, 1 where there is none.
[[nodiscard]] double contrast_at(const PowerSpectrum& spectrum, Frequency at, double least_contrast);

// Whether a pair has both checks of its own, exactly where they must lie and not as faint as the streaks of uneven
// threads, which may cross that place.
[[nodiscard]] bool has_checks(const WeavePair& pair, const PowerSpectrum& spectrum, double least_contrast);

}  // namespace tedge::imaging
