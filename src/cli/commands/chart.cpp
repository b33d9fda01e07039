// How true the colours of a photograph are, told by the chart in it.
#include <fmt/format.h>

#include "command.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/usecases/measure_chart.hpp"
#include "values.hpp"

namespace tedge::cli {

namespace {

using nlohmann::json;

json errors_json(const imaging::PatchErrors& errors) {
    return {{"mean", errors.mean},
            {"p90", errors.p90},
            {"max", errors.max},
            {"worst", errors.worst},
            {"patches", errors.patches}};
}

json patches_json(const usecases::MeasuredChart& measured) {
    json out = json::array();
    for (std::size_t i = 0; i < imaging::chart_patches; ++i) {
        const imaging::PatchFit& patch = measured.fit.patches[i];
        json row{{"patch", i + 1},
                 {"name", patch.name},
                 {"used", patch.used},
                 {"clipped_share", measured.reading.patches[i].clipped_share}};
        if (patch.used) {
            row["fitted_delta_e00"] = patch.fitted_delta_e00;
            row["left_out_delta_e00"] = patch.foretold_delta_e00;
        }
        out.push_back(std::move(row));
    }
    return out;
}

json tolerances_json(const std::vector<imaging::ToleranceLine>& lines) {
    json out = json::array();
    for (const imaging::ToleranceLine& line : lines)
        out.push_back({{"guideline", line.guideline},
                       {"parameter", line.parameter},
                       {"measured", line.measured},
                       {"unit", line.unit},
                       {"level", line.level ? json(*line.level) : json(nullptr)},
                       {"limit", line.limit},
                       {"sentence", line.sentence},
                       {"source", line.source},
                       {"status", line.status}});
    return out;
}

Answer chart_answer(const usecases::MeasuredChart& measured) {
    const imaging::ColourFit& fit = measured.fit;
    json corners = json::array();
    for (const PointPx& corner : measured.reading.place.corners_px) corners.push_back({corner.x_px, corner.y_px});
    Answer answer;
    answer.fields = {{"id", to_text(measured.done.record)},
                     {"edition", fit.edition},
                     {"model", fit.transform.model() == imaging::ColourModel::matrix ? "matrix" : "root-polynomial"},
                     {"corners_px", std::move(corners)},
                     {"photo_from_chart", measured.reading.place.photo_from_chart.row_major()},
                     {"misfit_px", measured.reading.place.misfit_px},
                     {"left_out_delta_e00", errors_json(fit.foretold)},
                     {"fitted_delta_e00", errors_json(fit.fitted)},
                     {"black_left_out_delta_e00", fit.black.used ? json(fit.black.foretold_delta_e00) : json(nullptr)},
                     {"white_balance_delta_ab", fit.white_balance_delta_ab},
                     {"tone_delta_l", fit.tone_delta_l},
                     {"noise_l", fit.noise_l},
                     {"exposure_stops", fit.exposure_stops},
                     {"patches", patches_json(measured)},
                     {"tolerances", tolerances_json(measured.tolerances)},
                     {"notes", fit.notes}};
    answer.lines = {fmt::format(
        "Colour error {} ΔE00 on average, {} at most ({}), each patch foretold without itself; "
        "black apart. Values: {}.",
        format_fixed(fit.foretold.mean, 2), format_fixed(fit.foretold.max, 2), fit.foretold.worst, fit.edition_title)};
    for (const imaging::ToleranceLine& line : measured.tolerances) answer.lines.push_back(line.sentence);
    for (const std::string& note : fit.notes) answer.lines.push_back(note);
    return answer;
}

Expected<Answer> chart(Context& context, const Arguments& arguments) {
    const auto photograph = parse_uuid(arguments.position("PHOTOGRAPH"));
    if (!photograph) return pass_on(photograph);
    usecases::ChartWanted wanted;
    if (const auto text = arguments.option("corners")) {
        const auto corners = parse_corners(*text);
        if (!corners) return pass_on(corners);
        wanted.corners_px = *corners;
    }
    wanted.edition = arguments.option_or("edition", wanted.edition);
    wanted.own_chart = path_from_utf8(arguments.option_or("own-chart", ""));
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto measured = usecases::measure_chart(*acting, *photograph, wanted, context.progress());
    if (!measured) return pass_on(measured);
    return chart_answer(*measured);
}

}  // namespace

std::vector<Command> chart_commands() {
    return {
        {"photograph chart",
         {{"DIR", "PHOTOGRAPH"}, {"corners", "edition", "own-chart"}},
         "Measures how true the colours are by the 24-patch chart in the photograph.",
         chart},
    };
}

}  // namespace tedge::cli
