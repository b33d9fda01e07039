#include "chart_values.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "photograph_chart.hpp"
#include "tedge/base/number_text.hpp"

namespace tedge::usecases {

namespace {

std::string note_of(const ChartFigures& figures) {
    const imaging::ColourFit& fit = figures.fit;
    std::string note = fmt::format(
        "24-patch chart, {}; {}. Leaving one patch out: mean {}, 90th percentile {}, largest {} ({}). Black apart: {}. "
        "Fitted: mean {}.",
        fit.edition_title,
        fit.transform.model() == imaging::ColourModel::matrix ? "3×3 matrix" : "root-polynomial of degree 2",
        format_fixed(fit.foretold.mean, 2), format_fixed(fit.foretold.p90, 2), format_fixed(fit.foretold.max, 2),
        fit.foretold.worst, fit.black.used ? format_fixed(fit.black.foretold_delta_e00, 2) : "not measured",
        format_fixed(fit.fitted.mean, 2));
    for (const std::string& each : fit.notes) note += " " + each;
    if (figures.evened)
        note += fmt::format(" {} As photographed: mean {}.", figures.evened->sentence,
                            format_fixed(figures.evened->as_photographed_mean_delta_e00, 2));
    return note;
}

}  // namespace

casebook::FieldValues chart_values(std::string_view what, const ChartFigures& figures, const std::string& board) {
    casebook::FieldValues values;
    values.text("what", what)
        .number("value", figures.fit.foretold.mean)
        .text("unit", "ΔE00")
        .value("chart_fit", chart_fit_json(figures.fit, board))
        .text("note", note_of(figures));
    return values;
}

}  // namespace tedge::usecases
