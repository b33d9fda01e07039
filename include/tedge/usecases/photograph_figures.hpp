// What has been measured of how photographs were taken: the newest figure of each sort on record, beside the published
// tolerances.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "tedge/casebook/snapshot.hpp"
#include "tedge/imaging/capture_tolerances.hpp"

namespace tedge::usecases {

struct PhotographFigure {
    Uuid measurement;
    std::string what;  // as it was recorded
    double value = 0.0;
    std::string unit;
    std::optional<double> uncertainty;
    std::string note;
    std::optional<imaging::PatchErrors> patches;  // of a chart: each patch foretold without itself
    std::vector<imaging::ToleranceLine> tolerances;
};

struct PhotographFigures {
    std::optional<PhotographFigure> colour;  // by the chart in it, else by the one named for its session
    bool colour_is_of_session = false;
    bool colour_is_overtaken = false;           // another board is named for it than when its chart was measured
    std::optional<PhotographFigure> evenness;   // of the light, by the board that is named for it
    std::optional<PhotographFigure> sharpness;  // by a slanted edge
    std::optional<PhotographFigure> scale;      // px/mm
    std::optional<PhotographFigure> noise;      // L*, of a patch of one tone
    std::vector<PhotographFigure> others;       // of this photograph alone: threads of its canvas, cracks
};

// Of every photograph of the case, in one pass over its measurements. Figures that a chart's measurement did not keep
// (it was made by an earlier version) are not there, and have no tolerance beside them.
[[nodiscard]] std::map<Uuid, PhotographFigures> photograph_figures(const casebook::CaseSnapshot& snapshot);

}  // namespace tedge::usecases
