// How true the colours of a photograph are, told by the chart in it.
#include <fmt/format.h>

#include "command.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/base/text.hpp"
#include "tedge/usecases/cases.hpp"
#include "tedge/usecases/guessed_light.hpp"
#include "tedge/usecases/session_chart.hpp"
#include "tolerance_fields.hpp"
#include "values.hpp"

namespace tedge::cli {

namespace {

using nlohmann::json;

json errors_json(const imaging::PatchErrors& errors) {
    return {{"mean", errors.mean}, {"p90", errors.p90},     {"p95", errors.p95},
            {"max", errors.max},   {"worst", errors.worst}, {"patches", errors.patches}};
}

json patches_json(const usecases::ChartFigures& measured) {
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

json evened_json(const std::optional<usecases::EvenedChart>& evened) {
    if (!evened) return nullptr;
    return {{"non_uniformity_percent", evened->non_uniformity_percent},
            {"evened_percent", evened->evened_percent},
            {"as_photographed_mean_delta_e00", evened->as_photographed_mean_delta_e00}};
}

Answer chart_answer(const usecases::ChartFigures& measured) {
    const imaging::ColourFit& fit = measured.fit;
    json corners = json::array();
    for (const PointPx& corner : measured.reading.place.corners_px) corners.push_back({corner.x_px, corner.y_px});
    Answer answer;
    answer.fields = {{"edition", fit.edition},
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
                     {"tolerances", tolerance_fields(measured.tolerances)},
                     {"evened", evened_json(measured.evened)},
                     {"notes", fit.notes}};
    answer.lines = {fmt::format(
        "Colour error {} ΔE00 on average, {} at most ({}), each patch foretold without itself; "
        "black apart. Values: {}.",
        format_fixed(fit.foretold.mean, 2), format_fixed(fit.foretold.max, 2), fit.foretold.worst, fit.edition_title)};
    if (measured.evened)
        answer.lines.push_back(fmt::format("{} As photographed the colour error is {} ΔE00 on average.",
                                           measured.evened->sentence,
                                           format_fixed(measured.evened->as_photographed_mean_delta_e00, 2)));
    for (const imaging::ToleranceLine& line : measured.tolerances) answer.lines.push_back(line.sentence);
    for (const std::string& note : fit.notes) answer.lines.push_back(note);
    return answer;
}

Expected<usecases::ChartWanted> wanted_by(const Arguments& arguments) {
    usecases::ChartWanted wanted;
    if (const auto text = arguments.option("corners")) {
        const auto corners = parse_corners(*text);
        if (!corners) return pass_on(corners);
        wanted.corners_px = *corners;
    }
    wanted.edition = arguments.option_or("edition", wanted.edition);
    wanted.own_chart = path_from_utf8(arguments.option_or("own-chart", ""));
    // Before any picture is read; and a chart file that is none is no word about the photograph.
    if (!wanted.own_chart.empty()) {
        if (const auto own = imaging::read_chart_reference(wanted.own_chart); !own) return pass_on(own);
    } else if (const auto edition = said_by("edition", imaging::chart_reference(std::string_view(wanted.edition)));
               !edition) {
        return pass_on(edition);
    }
    wanted.board = path_from_utf8(arguments.option_or("board", ""));
    return wanted;
}

Expected<Answer> measure(Context& context, const Arguments& arguments) {
    const auto photograph = id_at(arguments, "PHOTOGRAPH");
    if (!photograph) return pass_on(photograph);
    const auto wanted = wanted_by(arguments);
    if (!wanted) return pass_on(wanted);
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto measured = usecases::measure_chart(*acting, *photograph, *wanted, context.progress());
    if (!measured) return pass_on(measured);
    Answer answer = chart_answer(measured->figures);
    answer.fields["id"] = to_text(measured->done.record);
    answer.fields["guessed_light"] = measured->guessed_light.empty() ? json(nullptr) : json(measured->guessed_light);
    if (!measured->guessed_light.empty())
        answer.lines.push_back(fmt::format("{} {}", measured->guessed_light, usecases::confirm_light));
    return answer;
}

// CHART is a file, or a photograph of the case in which a chart was measured.
Expected<Answer> name_for_session(Context& context, const Arguments& arguments) {
    const auto photographs = ids_at(arguments, "for");
    if (!photographs) return pass_on(photographs);
    const auto wanted = wanted_by(arguments);
    if (!wanted) return pass_on(wanted);
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto case_id = usecases::find_case(acting->book, arguments.position("CASE"));
    if (!case_id) return pass_on(case_id);
    Answer answer;
    std::size_t named = 0;
    Uuid measurement;
    if (const auto in_the_case = parse_uuid(arguments.position("CHART"))) {
        const auto measured = usecases::measured_chart_of(acting->book, *in_the_case);
        if (!measured) return pass_on(measured);
        const auto done = usecases::name_chart(*acting, *measured, *photographs);
        if (!done) return pass_on(done);
        measurement = *measured;
        named = done->size();
    } else {
        const auto measured = usecases::measure_session_chart(
            *acting, *case_id, path_from_utf8(arguments.position("CHART")), *photographs, *wanted, context.progress());
        if (!measured) return pass_on(measured);
        answer = chart_answer(measured->figures);
        answer.fields["sha256"] = measured->sha256;
        answer.fields["already"] = measured->already;
        measurement = measured->done.record;
        named = measured->named.size();
    }
    answer.fields["id"] = to_text(measurement);
    answer.fields["photographs"] = named;
    answer.lines.push_back(
        fmt::format("{}  named for {}.", to_text(measurement), counted(named, "photograph", "photographs")));
    return answer;
}

// That there is no chart to be measured is an answer about the photograph, not a failure to look at it.
bool says_no_chart(const Error& error) {
    return error.code.starts_with("chart.") && error.code != "chart.grey" && error.code != "chart.corners";
}

Answer no_chart(const Error& error) {
    Answer answer;
    answer.fields = {{"chart_found", false}, {"reason", error.message}, {"code", error.code},
                     {"next", error.next},   {"delta_e00", nullptr},    {"patches", json::array()}};
    answer.lines = {error.message + " " + error.next};
    answer.code = ExitCode::not_to_be_trusted;
    return answer;
}

Expected<Answer> check(Context& context, const Arguments& arguments) {
    const auto wanted = wanted_by(arguments);
    if (!wanted) return pass_on(wanted);
    const auto figures =
        usecases::chart_figures(path_from_utf8(arguments.position("PHOTO")), *wanted, context.progress());
    if (!figures && says_no_chart(figures.error())) return no_chart(figures.error());
    if (!figures) return pass_on(figures);
    Answer answer = chart_answer(*figures);
    answer.fields["chart_found"] = true;
    answer.fields["delta_e00"] = answer.fields["left_out_delta_e00"];
    return answer;
}

}  // namespace

std::vector<Command> chart_commands() {
    return {
        {"chart-check",
         {{"PHOTO"}, {"corners", "edition", "own-chart", "board"}},
         "How true the colours of a file are by the 24-patch chart in it; records nothing.",
         check},
        {"photograph chart",
         {{"DIR", "PHOTOGRAPH"}, {"corners", "edition", "own-chart", "board"}},
         "Measures how true the colours are by the 24-patch chart in the photograph.",
         measure},
        {"photograph session-chart",
         {{"DIR", "CASE", "CHART"}, {"for", "corners", "edition", "own-chart"}},
         "A 24-patch chart photographed apart (a file), or lying in one photograph of the case (its id), corrects the "
         "photographs named by --for.",
         name_for_session},
    };
}

}  // namespace tedge::cli
