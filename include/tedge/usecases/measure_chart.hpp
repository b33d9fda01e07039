// Measuring how true the colours of a photograph are, by the 24-patch chart in it.
#pragma once

#include <array>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "tedge/base/progress.hpp"
#include "tedge/imaging/capture_tolerances.hpp"
#include "tedge/imaging/colour_fit.hpp"
#include "tedge/usecases/acting.hpp"
#include "tedge/usecases/records.hpp"

namespace tedge::usecases {

struct ChartWanted {
    std::optional<imaging::ChartCorners> corners_px{};  // as a person points at them; left out: it is looked for
    std::string edition = "maker-2005";                 // an id of chart_reference.hpp
    std::filesystem::path own_chart{};                  // a CGATS file of one's own chart, in place of an edition
};

struct ChartFigures {
    imaging::ChartReading reading;
    imaging::ColourFit fit;
    std::vector<imaging::ToleranceLine> tolerances;
};

// Of any file (a raw file in the camera's own colours); nothing is recorded. Errors: those of read_picture, find_chart,
// read_chart_at, chart_reference and fit_chart.
[[nodiscard]] Expected<ChartFigures> chart_figures(const std::filesystem::path& photograph,
                                                   const ChartWanted& wanted = {}, const Progress& progress = {});

struct MeasuredChart {
    Done done;  // the measurement: leave-one-out mean ΔE00, the fit that corrects colours, what it rests on
    ChartFigures figures;
};

// The same of a stored original, recorded as a measurement of its case. More errors: photograph.not-a-photograph,
// casebook.deleted-record, photograph.no-colour-light (specular, raking, ultraviolet, infrared and transmitted light
// show no colour to be measured), and the casebook's.
[[nodiscard]] Expected<MeasuredChart> measure_chart(const Acting& acting, const Uuid& photograph,
                                                    const ChartWanted& wanted = {}, const Progress& progress = {});

}  // namespace tedge::usecases
