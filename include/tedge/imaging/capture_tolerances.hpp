// Published tolerances for photographing flat artwork, beside what a photograph measures.
//
// A figure can be within a tolerance; nothing here certifies anything, which takes the guideline's own target and
// procedure. Every line carries how sure the tolerance itself is (the status column of imaging_tolerances.csv).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tedge/imaging/colour_fit.hpp"

namespace tedge::imaging {

// What was measured; what was not stays empty and gives no line.
struct CaptureFigures {
    std::optional<double> colour_mean_delta_e00;  // leave-one-out, black apart
    std::optional<double> colour_p90_delta_e00;
    std::optional<double> colour_max_delta_e00;
    std::optional<double> colour_mean_flat_delta_e00;  // S_L = 1
    std::optional<double> colour_max_flat_delta_e00;
    std::optional<double> white_balance_delta_ab;
    std::optional<double> tone_delta_l;
    std::optional<double> noise_l;
    std::optional<double> non_uniformity_percent;
    std::optional<double> sfr10_percent;        // sampling efficiency
    std::optional<double> scale_error_percent;  // size, either way, by which the scale is off
};
[[nodiscard]] CaptureFigures capture_figures(const ColourFit& fit);

struct ToleranceLine {
    std::string guideline;  // "FADGI 2016"
    std::string parameter;  // "mean colour error"
    double measured = 0.0;
    std::string unit;
    std::optional<std::string> level;  // the strictest one kept: "3-star"; nothing when none is
    double limit = 0.0;                // of that level, or of the widest
    std::string sentence;  // "Mean colour error 1.8 ΔE00 is within the FADGI 2016 4-star tolerance (below 2)."
    std::string source;
    std::string status;
};
[[nodiscard]] std::vector<ToleranceLine> beside_tolerances(const CaptureFigures& figures);

}  // namespace tedge::imaging
