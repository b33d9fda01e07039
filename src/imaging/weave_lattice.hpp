// Which peaks of a spectrum are the threads of a weave: fundamental against harmonic, threads against checks and twill.
#pragma once

#include <optional>
#include <vector>

#include "weave_kind.hpp"
#include "weave_spectrum.hpp"

namespace tedge::imaging {

struct WeaveLattice {
    Frequency a;  // across the picture
    Frequency b;  // down the picture
    WeaveKind kind = WeaveKind::plain;
    double contrast_a = 0.0;  // of the peaks on the axes, 1 being the background; 1 where there is none
    double contrast_b = 0.0;
    double contrast_checks = 0.0;  // of the stronger one
    double twice = 0.0;            // the stronger second harmonic over its first: high where each thread may be a pair
    // How much better the reading is than the best other one of the same peaks, in logarithms of contrast.
    double lead = 0.0;
    std::optional<double> other_a_per_cm{};  // that other reading, where it is near
    std::optional<double> other_b_per_cm{};
};

struct LatticeSearch {
    std::vector<Peak> peaks{};  // strongest first
    double least_contrast = 0.0;
    std::optional<WeaveLattice> found{};
};

// `squares`: how many independent ones the mean is of; few make chance peaks. Counts from 4.5 to most_per_cm.
[[nodiscard]] LatticeSearch find_lattice(const PowerSpectrum& mean, double squares, double most_per_cm);

}  // namespace tedge::imaging
