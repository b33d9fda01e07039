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
    // An even board photographed in the same light, camera and place: the photograph is evened by it first
    // (flat_field.hpp). Empty: as photographed, or by the board that the photograph's record names (measure_board.hpp).
    std::filesystem::path board{};
};

// What evening by a board did.
struct EvenedChart {
    double non_uniformity_percent = 0.0;          // of the light as it fell
    double evened_percent = 0.0;                  // what is left of it on the board
    double as_photographed_mean_delta_e00 = 0.0;  // leave-one-out, of the same chart without evening
    std::string sentence;
};

struct ChartFigures {
    imaging::ChartReading reading;
    imaging::ColourFit fit;
    std::vector<imaging::ToleranceLine> tolerances;
    std::optional<EvenedChart> evened;
};

// Of any file (a raw file in the camera's own colours); nothing is recorded. Errors: those of read_picture, find_chart,
// read_chart_at, chart_reference, fit_chart and flat_field_of, flat-field.size.
[[nodiscard]] Expected<ChartFigures> chart_figures(const std::filesystem::path& photograph,
                                                   const ChartWanted& wanted = {}, const Progress& progress = {});

struct MeasuredChart {
    Done done;  // the measurement: leave-one-out mean ΔE00, the fit that corrects colours, what it rests on
    ChartFigures figures;
    std::string guessed_light;  // that the light was only guessed (guessed_light.hpp), or ""
};

// The same of a stored original, recorded as a measurement of its case. More errors: photograph.not-a-photograph,
// casebook.deleted-record, photograph.no-colour-light (specular, raking, ultraviolet, infrared and transmitted light
// show no colour to be measured), and the casebook's.
[[nodiscard]] Expected<MeasuredChart> measure_chart(const Acting& acting, const Uuid& photograph,
                                                    const ChartWanted& wanted = {}, const Progress& progress = {});

}  // namespace tedge::usecases
