// The colour chart of a photograph as it stands on record: whether there is one, and what measuring it gave.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>

#include "tedge/casebook/snapshot.hpp"
#include "tedge/imaging/capture_tolerances.hpp"
#include "tedge/imaging/colour_fit.hpp"

namespace tedge::usecases {

enum class ChartState {
    none,        // nobody says that a chart is in the picture
    unmeasured,  // there is one in the picture
    no_fit,      // measured, but what corrects the colours was not kept, or is of another board than the photograph's
    measured
};

struct PhotographChart {
    ChartState state = ChartState::none;
    imaging::ColourTransform transform{};  // these three only when measured
    imaging::ChartLight light = imaging::ChartLight::srgb;
    double left_out_delta_e00 = 0.0;  // mean over the patches, each foretold without itself
    bool is_of_session = false;       // photographed in a frame of its own (session_chart.hpp)
};

// By the newest measurement of the chart in it where that corrects its colours, else by the chart of its session.
[[nodiscard]] PhotographChart chart_of(const casebook::CaseSnapshot& snapshot, const casebook::Record& photograph);

// The newest measurement of the chart that lies in the photograph; nullptr where there is none.
[[nodiscard]] const casebook::Record* newest_of_chart(const casebook::CaseSnapshot& snapshot,
                                                      const casebook::Record& photograph);
// That of the chart named for its session; nullptr where none is named, or the measurement was removed.
[[nodiscard]] const casebook::Record* chart_of_session(const casebook::CaseSnapshot& snapshot,
                                                       const casebook::Record& photograph);
// Whether the measurement kept what corrects colours.
[[nodiscard]] bool corrects_colours(const casebook::Body& measurement);

// The field "chart_fit" of a measurement: {"model", "light", "edition", "board", "gains": [3], "coefficients": [18],
// "left_out": {"mean", "p90", "p95", "max", "worst", "patches"} in ΔE00, "left_out_flat": {"mean", "max"} with S_L = 1,
// "white_balance_delta_ab", "tone_delta_l", "noise_l"}.
// board: the record of the even board by which the photograph was evened first (even_board), or "".
[[nodiscard]] nlohmann::json chart_fit_json(const imaging::ColourFit& fit, const std::string& board);

// The correction that stands at a path ("chart_fit", "first/correction"), into `chart`: its transform and light. False
// where there is none, or one that this program does not know.
[[nodiscard]] bool read_correction(const casebook::Body& body, const std::string& at, PhotographChart& chart);

// What of it takes colours to true ones: {"model", "light", "gains", "coefficients"}.
[[nodiscard]] nlohmann::json correction_json(const imaging::ColourTransform& transform, imaging::ChartLight light);

// Whether the chart was measured in the light that the photograph is evened by now: by the same board, or by none.
[[nodiscard]] bool is_evened_alike(const casebook::CaseSnapshot& snapshot, const casebook::Body& measurement,
                                   const casebook::Record& photograph);

// What such a measurement keeps; those of an earlier version kept the mean alone.
[[nodiscard]] std::optional<imaging::PatchErrors> patch_errors_kept(const casebook::Body& measurement);
[[nodiscard]] imaging::CaptureFigures figures_kept(const casebook::Body& measurement);

}  // namespace tedge::usecases
